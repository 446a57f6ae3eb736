"""Finding numbers on the hundred square."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.kinds.mistakes import FEW, MANY, OPPOSITE, SELF, sentences
from tasks.numberwork.pictures import HundredSquare
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

TURNED, TOO_FAR = "mixed up along and down", "went one step too far"
ROW_UP, ROW_DOWN = "said the number above", "said the number below"
STEPS = {"right": 1, "left": -1, "below": 10, "above": -10}
ROW = 10


def _covered(number: int, within: int) -> Ask:
    """Ask which number is under the cover."""
    slips = {
        FEW: number - 1,
        MANY: number + 1,
        ROW_UP: number - ROW,
        ROW_DOWN: number + ROW,
        **digit_mistakes(number),
    }
    return Ask("covered", f"{number}", (), number, wrong_answers(slips, number))


def _beside(number: int, form: str) -> Ask:
    """Ask which number is just right or left of, below or above another."""
    step = STEPS[form]
    turned = {1: 10, -1: -10, 10: 1, -10: -1}[step]
    slips = {
        SELF: number,
        OPPOSITE: number - step,
        TURNED: number + turned,
        TOO_FAR: number + 2 * step,
        **digit_mistakes(number + step),
    }
    right = number + step
    return Ask(form, f"{number}", (number,), right, wrong_answers(slips, right))


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every covered number and every step on the square."""
    forms = {
        WITH_SUPPORT: ("right", "left"),
        CORE: ("right", "left", "below", "above"),
        CHALLENGE: ("below", "above"),
    }[depth]
    for number in range(1, within + 1):
        yield _covered(number, within)
        for form in forms:
            there = number + STEPS[form]
            same_row = (there - 1) // ROW == (number - 1) // ROW
            if 1 <= there <= within and (same_row or form in ("below", "above")):
                yield _beside(number, form)


def _picture(ask: Ask, depth: str, variant: int) -> HundredSquare | None:
    """Draw the square; for challenge the neighbours are covered too, or there is no square."""
    number = _number(ask)
    last = next(size for size in (20, 50, 100) if max(number, *ask.numbers, 1) <= size)
    if ask.form != "covered":
        return None if depth == CHALLENGE else HundredSquare(ask.numbers, (number,), last=last)
    hidden = _around(number, last) if depth == CHALLENGE else (number,)
    return HundredSquare(hidden=hidden, marked=(number,), last=last)


def _around(number: int, last: int) -> tuple[int, ...]:
    """List a number and its neighbours on the square, also across corners."""
    beside = [number + side for side in (-1, 0, 1)]
    same_row = [one for one in beside if (one - 1) // ROW == (number - 1) // ROW]
    places = (one + row for one in same_row for row in (-ROW, 0, ROW))
    return tuple(sorted(place for place in places if 1 <= place <= last))


def _number(ask: Ask) -> int:
    """Return the answer as a number, which on the square it always is."""
    return ask.answer if isinstance(ask.answer, int) else 0


HUNDRED_SQUARE = Kind(
    name="hundred-square",
    title="Finding numbers on the hundred square",
    practises="Knowing where numbers stand: along the row is one more, down the column ten more",
    ranges=(20, 50, 100),
    example="the number just below 34 is □",
    forms={
        "covered": "One number is covered: which is it?",
        "right": "The number just to the right",
        "left": "The number just to the left",
        "below": "The number just below",
        "above": "The number just above",
    },
    mistakes={
        **sentences(FEW, MANY, SELF),
        OPPOSITE: "Went the opposite way on the square",
        TURNED: "Went down instead of along, or along instead of down",
        TOO_FAR: "Went one step too far",
        ROW_UP: "Said the number in the row above",
        ROW_DOWN: "Said the number in the row below",
        **DIGITS,
    },
    depths={
        "with support": "One number covered, or a step along the row",
        "core": "Steps along the row and down the column too",
        "challenge": "The numbers around are covered as well; steps down and up without the square",
    },
    fetch=(
        "a hundred square drawn on paper and a bottle top as cover",
        "a calendar page",
        "ten rows of ten chalk squares outside",
    ),
    say="Which numbers are its neighbours? What changes when you go down one row?",
    right="The child uses the row and the column and does not count from one.",
    seconds=30,
    asks=_asks,
    picture=_picture,
)

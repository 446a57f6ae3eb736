"""A number missing from a count."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.counting_mistakes import ONES, crosses_a_ten
from tasks.numberwork.kinds.counting_mistakes import SENTENCES as COUNTING
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.pictures import NumberCards, NumberLine, Picture
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

BEFORE, AFTER = "said the number before", "said the number after"
CARRIED_ON = "carried on from the end"
FORMS = {
    "box first": "The first number of four is missing",
    "box second": "The second number of four is missing",
    "box third": "The third number of four is missing",
}
LENGTH = 4


def _steps(within: int, depth: str) -> tuple[int, ...]:
    """Return the steps of the counts asked about."""
    steps = tuple(step for step in (1, 2, 5, 10) if step == 1 or (LENGTH - 1) * step <= within)
    if depth == WITH_SUPPORT:
        return (1,)
    return steps if depth == CORE else tuple(-step for step in steps)


def _runs(within: int, depth: str) -> Iterator[tuple[int, int]]:
    """List the counts of four numbers: where they begin and their step."""
    for step in _steps(within, depth):
        for first in range(within + 1):
            last = first + (LENGTH - 1) * step
            near = within <= 20 or crosses_a_ten(first, last - first)
            wanted = near if abs(step) == 1 and depth == CHALLENGE else first % step == 0
            if 0 <= last <= within and wanted:
                yield first, step


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every count of four with a box inside; the first number too for challenge."""
    for first, step in _runs(within, depth):
        run = [first + step * place for place in range(LENGTH)]
        places = {0: "box first", 1: "box second", 2: "box third"}
        for place, form in places.items():
            if place == 0 and depth != CHALLENGE:
                continue
            right = run[place]
            slips = {
                BEFORE: run[place - 1] if place else None,
                AFTER: run[place + 1],
                CARRIED_ON: run[-1] + step,
                ONES: _in_ones(run, place, step),
                **digit_mistakes(right),
            }
            shown = tuple(number for number in run if number != right)
            yield Ask(form, f"{first}:{step}", shown, right, wrong_answers(slips, right))


def _in_ones(run: list[int], place: int, step: int) -> int | None:
    """Predict the answer of a child who counts in ones from the number beside the box."""
    if abs(step) == 1:
        return None
    one = step // abs(step)
    return run[place - 1] + one if place else run[1] - one


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw a number line with an empty place, or cards with one left blank."""
    if not isinstance(ask.answer, int) or depth == CHALLENGE:
        return None
    place = list(FORMS).index(ask.form)
    if depth == WITH_SUPPORT:
        low, high = min(*ask.numbers, ask.answer), max(*ask.numbers, ask.answer)
        return NumberLine(low, high, marked=ask.numbers, hidden=(ask.answer,))
    return NumberCards((*ask.numbers[:place], None, *ask.numbers[place:]))


MISSING_NUMBER = Kind(
    name="missing-number",
    title="Missing number in a count",
    practises="Finding the number left out of a count, by counting on and back to it",
    ranges=(5, 10, 20, 50, 100, 200),
    example="4, □, 6, 7",
    forms=FORMS,
    mistakes={
        BEFORE: "Said the number before the box again",
        AFTER: "Said the number after the box",
        CARRIED_ON: "Carried on from the end of the count",
        ONES: COUNTING[ONES],
        **DIGITS,
    },
    depths={
        "with support": "A count on in ones with a number line",
        "core": "Counts on in ones, twos, fives and tens, on number cards",
        "challenge": "Counts back, without a picture; the first number may be missing",
    },
    fetch=("number cards made from scrap paper", "page numbers of a book", "doors in a street"),
    say="Say the count aloud. Where did you hear a gap?",
    right="The child says the count from the start and puts in the number that was missing.",
    seconds=30,
    asks=_asks,
    picture=_picture,
)

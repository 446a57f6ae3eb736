"""About how many, and then the count: a first look, a number, and the check."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import (
    FEW,
    MANY,
    SAME_EACH_TIME_FIRST,
    SAME_EACH_TIME_LAST,
    sentences,
)
from tasks.numberwork.pictures import Picture, ScatteredDots, Things
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT, Answer

HALF, DOUBLE = "guessed half as many", "guessed twice as many"
CHOICES = ("about five", "about ten")
LEAST, MOST_SCATTERED = 4, 10  # fewer are seen at once; more than ten are counted in rows


def near(number: int, within: int) -> tuple[Answer, ...]:
    """Return the guesses that are near *number*, itself first: a quarter off, one at the least.

    Common practice, no source.

    >>> near(8, 10), near(5, 10)
    ((8, 6, 7, 9, 10), (5, 4, 6))
    """
    off = max(1, number // 4)
    others = range(number - off, min(number + off, within) + 1)
    return (number, *(guess for guess in others if guess != number))


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List amounts to guess, and the counts that follow.

    Source for counting to ten where they are scattered and to twenty in rows: Common Core K.CC.B.5.
    """
    if depth == WITH_SUPPORT:
        yield from _about_five_or_ten(within)
        return
    for number in range(within // 2 + 1 if depth == CHALLENGE else LEAST, within + 1):
        right = near(number, within)
        guesses = {HALF: number // 2, DOUBLE: 2 * number}
        far = {name: guess for name, guess in guesses.items() if guess not in right}
        wrong = wrong_answers(far, number)
        yield Ask("guess", f"about:{number}", (), number, wrong, answers=right)
    for number in range(LEAST, (within if depth == CHALLENGE else MOST_SCATTERED) + 1):
        wrong = wrong_answers({FEW: number - 1, MANY: number + 1}, number)
        yield Ask("rows" if depth == CHALLENGE else "count", str(number), (), number, wrong)


def _about_five_or_ten(within: int) -> Iterator[Ask]:
    """List amounts near five and amounts near ten, and none between."""
    ends: dict[str, Answer | None] = {
        SAME_EACH_TIME_FIRST: CHOICES[0],
        SAME_EACH_TIME_LAST: CHOICES[1],
    }
    for number in (4, 5, 6, 9, 10, 11):
        if number <= within:
            right = CHOICES[number > 7]
            wrong = wrong_answers(ends, right)
            yield Ask("five or ten", f"near:{number}", (), right, wrong, choices=CHOICES)


def _picture(ask: Ask, depth: str, variant: int) -> Picture:
    """Scatter the amount, or lay it out in rows for a count beyond ten."""
    number = int(ask.fact.rpartition(":")[2])
    return Things("spoon", number) if ask.form == "rows" else ScatteredDots(number, variant)


ESTIMATING = Kind(
    name="estimate-and-count",
    title="Guess and count",
    practises="Saying about how many there are, and counting to check",
    ranges=(10, 20),
    example="about how many are there? □",
    forms={
        "five or ten": "About five or about ten?",
        "guess": "A guess after a short look; every near number is right",
        "count": "The count afterwards, scattered to ten",
        "rows": "The count afterwards, in rows",
    },
    mistakes={
        HALF: "Guessed about half as many",
        DOUBLE: "Guessed about twice as many",
        **sentences(FEW, MANY, SAME_EACH_TIME_FIRST, SAME_EACH_TIME_LAST),
    },
    depths={
        "with support": "About five or about ten, with none between",
        "core": "A guess, and the count to ten",
        "challenge": "A guess of larger amounts, and the count in rows",
    },
    fetch=("a handful of pegs", "spoons in a bowl", "socks in a bag"),
    say="Have a quick look. About how many? Say a number. Now count. Were you near?",
    right="The child says a number before counting, then counts. A near number is a good guess.",
    seconds=45,
    asks=_asks,
    picture=_picture,
    variants=4,
)

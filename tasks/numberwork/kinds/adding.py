"""Adding: how many altogether."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.pictures import NumberLine, Picture, TwoLots
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

FROM_START, MANY = "counted the start number", "one too many"
TOOK, FIRST, SECOND = "took away", "said the first number", "said the second number"
SIDE_BY_SIDE, LEFT_OUT = "wrote the numbers side by side", "left a number out"


def add_mistakes(first: int, second: int) -> dict[str, Answer | None]:
    """Predict wrong answers to *first* + *second*.

    Counting on from the start number gives one too few: 4, 5, 6 for 4 + 3 (Fuson 1988, from
    memory). Wrong operation and a repeated number: common practice, no source.
    """
    total = first + second
    together = int(f"{first}{second}") if 0 < first < 10 and second < 10 else None
    return {
        FROM_START: total - 1,
        MANY: total + 1,
        TOOK: abs(first - second),
        FIRST: first,
        SECOND: second,
        SIDE_BY_SIDE: together,
        **digit_mistakes(total),
    }


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every sum in range: small second numbers with support, across ten for challenge."""
    for first in range(within + 1):
        for second in range(within + 1 - first):
            total = first + second
            fact = f"{first},{second}"
            wrong = wrong_answers(add_mistakes(first, second), total)
            easy = first > 0 and 1 <= second <= 3 and not first < 10 < total
            asked = {WITH_SUPPORT: easy, CORE: total > 0}.get(depth, False)
            if asked:
                yield Ask("total", fact, (first, second), total, wrong)
            elif depth == CHALLENGE and min(first, second) > 0:
                yield Ask("total first", fact, (first, second), total, wrong)
                if within <= 10 or first < 10 < total:
                    yield from _three(first, second, within)


def _three(first: int, second: int, within: int) -> Iterator[Ask]:
    """List sums of three numbers that begin with *first* and *second*."""
    for third in range(1, within + 1 - first - second):
        total = first + second + third
        slips = {FROM_START: total - 1, MANY: total + 1, FIRST: first, SECOND: second}
        slips |= {LEFT_OUT: first + second}
        yield Ask(
            "three numbers",
            f"{first},{second},{third}",
            (first, second, third),
            total,
            wrong_answers({**slips, **digit_mistakes(total)}, total),
        )


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw both amounts with support, a number line from the first at core, nothing beyond."""
    first, second = ask.numbers[:2]
    if depth == WITH_SUPPORT:
        return TwoLots(first, second)
    if depth == CORE:
        return NumberLine(0, max(5, -(-(first + second) // 5) * 5), marked=(first,))
    return None


ADDING = Kind(
    name="adding",
    title="Adding",
    practises="Putting two amounts together and saying how many altogether",
    ranges=(5, 10, 20),
    example="5 + 3 = □",
    forms={
        "total": "The sum first, the box at the end",
        "total first": "The box first: □ = 5 + 3",
        "three numbers": "Three numbers to add",
    },
    mistakes={
        FROM_START: "Counted the first number again when counting on, so gave one too few",
        MANY: "Gave one too many",
        TOOK: "Took away instead of adding",
        FIRST: "Said the first number",
        SECOND: "Said the second number",
        SIDE_BY_SIDE: "Wrote the two numbers side by side (such as 53 for 5 + 3)",
        LEFT_OUT: "Left the last number out",
        **DIGITS,
    },
    depths={
        "with support": "One, two or three more, both amounts drawn, never across ten",
        "core": "Any two numbers; a number line with the first number marked",
        "challenge": "No picture; the box comes first, three numbers, across ten",
    },
    fetch=("two lots of spoons", "socks of two colours", "pegs on two sides of a hanger"),
    say="How many here? How many there? How many altogether? How did you count them?",
    right="The child counts on from the first amount, or just knows; starting again is fine too.",
    seconds=50,
    asks=_asks,
    picture=_picture,
)

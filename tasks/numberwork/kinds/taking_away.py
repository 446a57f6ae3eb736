"""Taking away: how many are left."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.kinds.mistakes import (
    FEW,
    FIRST,
    FROM_START,
    SECOND,
    sentences,
)
from tasks.numberwork.pictures import Counters, NumberLine, Picture
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

ADDED = "added"


def take_mistakes(whole: int, taken: int) -> dict[str, Answer | None]:
    """Predict wrong answers to *whole* − *taken*.

    Counting back from the start number itself gives one too many (8, 7, 6 for 8 − 3: Fuson
    1988, from memory). The others: common practice, no source.
    """
    left = whole - taken
    return {
        FROM_START: left + 1,
        FEW: left - 1,
        ADDED: whole + taken,
        FIRST: whole,
        SECOND: taken,
        **digit_mistakes(left),
    }


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every taking away in range: small amounts with support, across ten for challenge."""
    for whole in range(1, within + 1):
        for taken in range(whole + 1):
            left, fact = whole - taken, f"{whole},{taken}"
            wrong = wrong_answers(take_mistakes(whole, taken), left)
            across = left < 10 < whole
            if (depth == WITH_SUPPORT and 1 <= taken <= 3 and not across) or depth == CORE:
                yield Ask("left", fact, (whole, taken), left, wrong)
            elif depth == CHALLENGE and taken > 0 and (within <= 10 or across):
                yield Ask("left", fact, (whole, taken), left, wrong)
                yield Ask("equals first", fact, (whole, taken), left, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the counters crossed out with support, a number line to count back on at core."""
    whole, taken = ask.numbers
    if depth == WITH_SUPPORT:
        return Counters(whole, taken)
    if depth == CORE:
        return NumberLine(0, max(5, -(-whole // 5) * 5), marked=(whole,))
    return None


TAKING_AWAY = Kind(
    name="taking-away",
    title="Taking away",
    practises="Taking some away and saying how many are left",
    ranges=(5, 10, 20),
    example="8 − 3 = □",
    forms={
        "left": "The taking away first, the box at the end",
        "equals first": "The box first: □ = 8 − 3",
    },
    mistakes={
        FROM_START: "Counted the first number again when counting back, so gave one too many",
        ADDED: "Added instead of taking away",
        SECOND: "Said the number taken away",
        **sentences(FEW, FIRST),
        **DIGITS,
    },
    depths={
        "with support": "One, two or three away, crossed out in the picture, never across ten",
        "core": "Any two numbers; a number line with the first number marked",
        "challenge": "No picture; the box may come first, across ten",
    },
    fetch=("spoons out of a drawer", "socks off a line", "cups back into the cupboard"),
    say="How many were there? How many did you take? How many are left?",
    right="The child takes away the right amount and says what is left, counting or knowing.",
    seconds=50,
    asks=_asks,
    picture=_picture,
)

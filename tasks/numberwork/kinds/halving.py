"""Halving, in words and as a number sentence: two equal parts, what is in one of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.pictures import Picture, Plates
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

DOUBLED, SELF = "doubled", "said the number itself"
ONE, TWO, ADDED = "took one away", "took two away", "added two"
FEW, MANY = "one too few", "one too many"
SIGN = "said the number after the sign"
AGAIN = "halved again"

SENTENCES = {
    DOUBLED: "Said double instead of half",
    SELF: "Said the number itself",
    ONE: "Took one away instead of halving",
    TWO: "Took two away instead of halving",
    FEW: "Gave one too few",
    MANY: "Gave one too many",
    AGAIN: "Halved the half again",
    ADDED: "Added two instead of halving",
}


def half_mistakes(whole: int) -> dict[str, Answer | None]:
    """Predict wrong answers to half of *whole*, an even number.

    Doubling for halving and taking one away: the table of common errors, from memory.
    """
    half = whole // 2
    return {
        DOUBLED: 2 * whole,
        ONE: whole - 1,
        TWO: whole - 2,
        SELF: whole,
        FEW: half - 1,
        MANY: half + 1,
    }


def _asks(
    plain: str, extra: dict[str, Callable[[int], int]]
) -> Callable[[int, str], Iterator[Ask]]:
    """Make the list of halves; *extra* mistakes are worked out from the whole.

    Odd numbers are not halved at this age (common practice, no source), and 0 is left out.
    """

    def asks(within: int, depth: str) -> Iterator[Ask]:
        for whole in range(2, within + 1, 2):
            half, fact = whole // 2, str(whole)
            slips = half_mistakes(whole) | {name: slip(whole) for name, slip in extra.items()}
            wrong = wrong_answers(slips, half)
            if depth != CHALLENGE:
                yield Ask(plain, fact, (whole, 2), half, wrong)
            if depth != WITH_SUPPORT:
                yield Ask("equals first", fact, (whole, 2), half, wrong)
            if depth == CHALLENGE:
                yield Ask("unknown", fact, (half, 2), whole, _undone(half))

    return asks


def _undone(half: int) -> dict[str, Answer]:
    """Predict wrong answers to: half of which number is *half*?"""
    halved = half // 2 if half % 2 == 0 else None
    slips = {SELF: half, AGAIN: halved, TWO: half + 2, ONE: half + 1}
    return wrong_answers({**slips, FEW: 2 * half - 1, MANY: 2 * half + 1}, 2 * half)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the shared plates with support, a heap beside empty plates at core."""
    whole = ask.numbers[0]
    if depth == WITH_SUPPORT and whole <= 20:
        return Plates((whole // 2, whole // 2))
    return Plates((0, 0), loose=whole) if depth == CORE and whole <= 20 else None


_DEPTHS = {
    "with support": "The equal sharing is drawn on two plates",
    "core": "The things lie in a heap beside two plates; the box may come first",
    "challenge": "No picture; the box comes first, or the half is given and the whole asked for",
}
_FETCH = ("two plates and some spoons", "two bowls and pegs", "two cushions and socks")
_SAY = "Share them one at a time. Is it the same on both sides? How do you know they are equal?"
_RIGHT = "Both sides have the same, none are left, and the child says what is on one side."

HALVING = Kind(
    name="halving",
    title="Halving",
    practises="Sharing a number into two equal parts and saying what is in one part",
    ranges=(5, 10, 20, 50, 100),
    example="half of 8 = □",
    forms={
        "half of": "Half of a number",
        "equals first": "The box first: □ = half of 8",
        "unknown": "The half is given, the whole number is asked for",
    },
    mistakes={name: SENTENCES[name] for name in (DOUBLED, ONE, TWO, SELF, FEW, MANY, AGAIN)},
    depths=_DEPTHS,
    fetch=_FETCH,
    say=_SAY,
    right=_RIGHT,
    seconds=60,
    asks=_asks("half of", {}),
    picture=_picture,
)

HALVING_NUMBER_SENTENCE = Kind(
    name="halving-number-sentence",
    title="Halving as a number sentence",
    practises="Reading and writing halving as ÷ 2",
    ranges=(5, 10, 20, 50, 100),
    example="8 ÷ 2 = □",
    forms={
        "divided": "A number divided by two",
        "equals first": "The box first: □ = 8 ÷ 2",
        "unknown": "The number that was halved is asked for: □ ÷ 2 = 4",
    },
    mistakes={**SENTENCES, SIGN: "Said the 2 that stands after the ÷ sign"},
    depths=_DEPTHS,
    fetch=_FETCH,
    say="What does this sign tell us to do? " + _SAY,
    right=_RIGHT + " The number sentence is read aloud.",
    seconds=60,
    asks=_asks("divided", {ADDED: lambda whole: whole + 2, SIGN: lambda whole: 2}),
    picture=_picture,
)

"""Comparing amounts and numbers: more, fewer, the same."""

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
from tasks.numberwork.pictures import CompareSets, NumberLine, Picture, TwoRows
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

OTHER_WAY, LAST_DIGIT = "mixed up more and fewer", "compared the last digits"
SAME = "always the same"
LARGER, SMALLER, ADDED = "said the larger number", "said the smaller number", "added"
SIDES = ("left", "right", "the same")
MOST_IN_A_SET = 10
FAR = (1, 2, 3, 5, 9, 10, 11)  # differences asked about above twenty


def pairs(within: int) -> Iterator[tuple[int, int]]:
    """List pairs of different numbers: all up to twenty, beyond it near and telling ones.

    Above twenty each pair comes in one order only, so that the list stays short.
    """
    for one in range(within + 1):
        for other in range(one + 1, within + 1):
            if within <= 20:
                yield from ((one, other), (other, one))
            elif other - one in FAR or (one > 9 and one % 10 * 10 + one // 10 == other):
                yield (one, other) if (one + other) % 3 else (other, one)


def _sets(within: int, depth: str) -> Iterator[Ask]:
    """List pairs of sets to compare: by looking (2 to 1 or more) with support, else to count.

    Source for 2 to 1: the acuity of four-year-olds modelled after Halberda and Feigenson 2008.
    """
    most = min(within, MOST_IN_A_SET)
    for left in range(1, most + 1):
        for right in range(1, most + 1):
            by_looking = max(left, right) >= 2 * min(left, right)
            if depth == WITH_SUPPORT and not by_looking:
                continue
            place = (left < right) - (left > right)
            side = SIDES[{-1: 0, 1: 1, 0: 2}[place]]
            slips = {
                OTHER_WAY: SIDES[{-1: 1, 1: 0, 0: 2}[place]],
                SAME_EACH_TIME_FIRST: "left",
                SAME_EACH_TIME_LAST: "right",
                SAME: "the same",
            }
            wrong = wrong_answers(slips, side)
            yield Ask("sets", f"{left}|{right}", (), side, wrong, choices=SIDES)


def _numbers(within: int, depth: str) -> Iterator[Ask]:
    """List pairs of numbers to choose the larger or the smaller from."""
    for one, other in pairs(within):
        hard = within <= 20 or one // 10 != other // 10
        if (depth == WITH_SUPPORT and (abs(one - other) < 2 or one * other == 0)) or (
            depth == CHALLENGE and not hard
        ):
            continue
        larger, smaller = max(one, other), min(one, other)
        ends: dict[str, Answer | None] = {SAME_EACH_TIME_FIRST: one, SAME_EACH_TIME_LAST: other}
        last = _by_last_digit(one, other)
        if depth != CHALLENGE:
            slips: dict[str, Answer | None] = {**ends, OTHER_WAY: smaller, LAST_DIGIT: last[1]}
            yield Ask("more", f"{one},{other}", (one, other), larger, wrong_answers(slips, larger))
        if depth != WITH_SUPPORT:
            slips = {**ends, OTHER_WAY: larger, LAST_DIGIT: last[0]}
            yield Ask(
                "less", f"{one},{other}", (one, other), smaller, wrong_answers(slips, smaller)
            )


def _by_last_digit(one: int, other: int) -> tuple[int | None, int | None]:
    """Return the smaller and the larger by last digits; only two-digit numbers can mislead so."""
    if min(one, other) < 10:
        return None, None
    smaller, larger = sorted((one, other), key=lambda number: (number % 10, number))
    return smaller, larger


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List comparisons of sets and numbers; for challenge also how many more."""
    if depth != CHALLENGE:
        yield from _sets(within, depth)
    yield from _numbers(within, depth)
    if depth == CHALLENGE:
        for smaller, larger in pairs(min(within, 20)):
            right = larger - smaller
            if right > 0 and smaller > 0:
                slips: dict[str, Answer | None] = {
                    LARGER: larger,
                    SMALLER: smaller,
                    ADDED: larger + smaller,
                    FEW: right - 1,
                    MANY: right + 1,
                }
                wrong = wrong_answers(slips, right)
                yield Ask("how many more", f"{smaller},{larger}", (larger, smaller), right, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the sets; two rows with support, a number line at core."""
    if ask.form == "sets":
        left, right = map(int, ask.fact.split("|"))
        return CompareSets(left, right, variant)
    low, high = min(ask.numbers), max(ask.numbers)
    if depth == WITH_SUPPORT and high <= 20:
        return TwoRows(*ask.numbers)
    if depth == CORE and high <= 20:
        return NumberLine(0, max(5, -(-high // 5) * 5), marked=tuple(sorted((low, high))))
    return None


COMPARING = Kind(
    name="comparing",
    title="Comparing",
    practises="Saying which is more, which is fewer, and when two amounts are the same",
    ranges=(5, 10, 20, 50, 100),
    example="which is more: 5 or 8? □",
    forms={
        "sets": "Two sets of dots: which has more, or are they the same?",
        "more": "Which of two numbers is more?",
        "less": "Which of two numbers is less?",
        "how many more": "How many more one number is than another",
    },
    mistakes={
        OTHER_WAY: "Chose fewer for more, or more for fewer",
        **sentences(SAME_EACH_TIME_FIRST, SAME_EACH_TIME_LAST, FEW, MANY),
        SAME: "Said that they are the same",
        LAST_DIGIT: "Compared the last digits only",
        LARGER: "Said the larger number instead of how many more",
        SMALLER: "Said the smaller number instead of how many more",
        ADDED: "Added instead of finding how many more",
    },
    depths={
        "with support": "Sets that differ at a glance; numbers well apart, in two rows",
        "core": "Sets to count, also equal ones; any two numbers, more and less",
        "challenge": "Numbers in different tens, and how many more, without a picture",
    },
    fetch=("two bowls with spoons", "two lines of socks", "two towers of boxes"),
    say="Which has more? How can you check? Are any the same?",
    right="The child chooses the right one and can check it by lining them up or counting.",
    seconds=30,
    asks=_asks,
    picture=_picture,
    variants=8,
)

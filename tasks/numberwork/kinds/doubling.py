"""Doubling: the same again."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.pictures import Counters, Picture, TwoRows
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

SELF, TWO_MORE, ONE_MORE = "said the number itself", "added two", "added one"
HALVED, TWICE = "halved", "wrote the number twice"
FEW, MANY = "one too few", "one too many"


def double_mistakes(number: int) -> dict[str, Answer | None]:
    """Predict wrong answers to double *number*. Common practice, no source."""
    return {
        SELF: number,
        TWO_MORE: number + 2,
        ONE_MORE: number + 1,
        HALVED: number // 2 if number % 2 == 0 else None,
        TWICE: number * 11 if 0 < number < 10 else None,
        FEW: 2 * number - 1,
        MANY: 2 * number + 1,
        **digit_mistakes(2 * number),
    }


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every double in range, from double 1."""
    for number in range(1, within // 2 + 1):
        wrong = wrong_answers(double_mistakes(number), 2 * number)
        fact = str(number)
        if depth != CHALLENGE:
            yield Ask("double", fact, (number,), 2 * number, wrong)
        if depth != WITH_SUPPORT:
            yield Ask("equals first", fact, (number,), 2 * number, wrong)
        if depth == CORE:
            yield Ask("add the same", fact, (number,), 2 * number, wrong)
        if depth == CHALLENGE:
            yield Ask("unknown", fact, (2 * number,), number, _undone(number))


def _undone(number: int) -> dict[str, Answer]:
    """Predict wrong answers to: double which number is twice *number*?"""
    whole = 2 * number
    slips = {SELF: whole, "doubled again": 2 * whole, TWO_MORE: whole - 2, ONE_MORE: whole - 1}
    return wrong_answers({**slips, FEW: number - 1, MANY: number + 1}, number)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw both rows with support and one of them at core, as far as they can be counted."""
    number = ask.numbers[0]
    if depth == WITH_SUPPORT and number <= 20:
        return TwoRows(number, number)
    return Counters(number) if depth == CORE and number <= 20 else None


DOUBLING = Kind(
    name="doubling",
    title="Doubling",
    practises="Putting the same amount again and saying how many altogether",
    ranges=(5, 10, 20, 50, 100),
    example="double 4 = □",
    forms={
        "double": "Double a number",
        "add the same": "A number add the same number",
        "equals first": "The box first: □ = 4 + 4",
        "unknown": "The double is given, the number that was doubled is asked for",
    },
    mistakes={
        SELF: "Said the number itself",
        TWO_MORE: "Added two instead of doubling",
        ONE_MORE: "Added one instead of doubling",
        HALVED: "Halved instead of doubling",
        TWICE: "Wrote the number twice (such as 44 for double 4)",
        FEW: "Gave one too few",
        MANY: "Gave one too many",
        "doubled again": "Doubled the double again",
        **DIGITS,
    },
    depths={
        "with support": "Both equal rows are drawn, ready to count",
        "core": "One amount is drawn; also written as 4 + 4",
        "challenge": "No picture; the box comes first, or the double is given",
    },
    fetch=("pairs of socks", "spoons in two equal rows", "a mirror and some cups"),
    say="Are both sides the same? How many altogether?",
    right="Two equal rows are made, and the child says how many altogether.",
    seconds=50,
    asks=_asks,
    picture=_picture,
)

"""Comparing with the signs <, > and =."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.comparing import LAST_DIGIT, pairs
from tasks.numberwork.pictures import Picture, TwoRows
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

TURNED, LESS, MORE, EQUAL = "turned the sign round", "always <", "always >", "always ="
FIRST_ONLY = "looked at the first number only"
SIGNS = ("<", ">", "=")


def sign(one: int, other: int) -> str:
    """Return the sign that belongs between two numbers."""
    return "<" if one < other else ">" if one > other else "="


def _ask(form: str, numbers: tuple[int, ...], one: int, other: int) -> Ask:
    """Ask for the sign between the amounts *one* and *other*."""
    right = sign(one, other)
    slips = {
        TURNED: sign(other, one),
        LESS: "<",
        MORE: ">",
        EQUAL: "=",
        LAST_DIGIT: sign(one % 10, other % 10) if min(one, other) >= 10 else None,
        FIRST_ONLY: sign(numbers[0], other) if len(numbers) > 2 else None,
    }
    fact = ",".join(map(str, numbers))
    return Ask(form, fact, numbers, right, wrong_answers(slips, right), choices=SIGNS)


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List pairs with a sign missing; for challenge a sum on the left."""
    for one, other in pairs(within):
        if depth != CHALLENGE and (depth == CORE or abs(one - other) > 1):
            yield _ask("sign", (one, other), one, other)
    if depth != CHALLENGE:
        yield from (_ask("sign", (same, same), same, same) for same in range(1, within + 1))
        return
    most = min(within, 20)
    for one in range(1, most):
        for two in range(1, min(most - one, 5) + 1):
            for away in (-2, -1, 0, 1, 2):
                if 0 <= one + two + away <= most:
                    yield _ask("sum", (one, two, one + two + away), one + two, one + two + away)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw both numbers in rows with support."""
    small = max(ask.numbers) <= 20
    return TwoRows(*ask.numbers) if depth == WITH_SUPPORT and small else None


COMPARING_SIGNS = Kind(
    name="comparing-signs",
    title="Comparing with signs",
    practises="Reading and writing <, > and = between two numbers",
    ranges=(5, 10, 20, 50, 100),
    example="5 □ 8",
    forms={
        "sign": "The sign between two numbers",
        "sum": "The sign between a sum and a number",
    },
    mistakes={
        TURNED: "Turned the sign round",
        LESS: "Wrote <",
        MORE: "Wrote >",
        EQUAL: "Wrote =",
        LAST_DIGIT: "Compared the last digits only",
        FIRST_ONLY: "Compared the first number instead of the sum",
    },
    depths={
        "with support": "Numbers well apart or the same, drawn in two rows",
        "core": "Any two numbers, without a picture",
        "challenge": "A sum on the left side",
    },
    fetch=(
        "two pencils to lay as a sign",
        "two forks to lay as a sign",
        "two straws to lay as a sign",
    ),
    say="Which side has more? Which side of the sign is wide open?",
    right="The open side of the sign is at the larger number; the child reads it aloud.",
    seconds=30,
    asks=_asks,
    picture=_picture,
)

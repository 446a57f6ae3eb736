"""Sharing equally: the same on every plate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, MANY, sentences
from tasks.numberwork.pictures import Picture, Plates
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

ALL, PLATES, TOOK = "said how many altogether", "said how many plates", "took the plates away"
ONE_EACH = "gave one each"
SHARED = ("spoon", "cup", "peg", "sock", "lid", "pencil")
SHARERS = {WITH_SUPPORT: (2,), CORE: (2, 3), CHALLENGE: (2, 3, 4, 5)}


@dataclass(frozen=True, slots=True)
class Shares:
    """How a sharing came out: is it fair, how far apart the plates are, what is left over."""

    fair: bool
    spread: int
    left_over: int
    fair_share: int


def look_at_shares(number: int, shares: Sequence[int]) -> Shares:
    """Compare what lies on each plate with the fair share of *number* things.

    Raises ValueError without plates or where more was shared than there is.

    >>> look_at_shares(8, (5, 3))
    Shares(fair=False, spread=2, left_over=0, fair_share=4)
    """
    if not shares or min(shares) < 0 or sum(shares) > number:
        raise ValueError(f"shares must be of {number} things on one or more plates, not {shares!r}")
    spread = max(shares) - min(shares)
    left = number - sum(shares)
    fair_share = number // len(shares)
    return Shares(spread == 0 and left < len(shares), spread, left, fair_share)


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every sharing without a remainder; for challenge also how many there were."""
    for plates in SHARERS[depth]:
        for number in range(plates, within + 1, plates):
            each, fact = number // plates, f"{number},{plates}"
            slips: dict[str, Answer | None] = {
                ALL: number,
                PLATES: plates,
                TOOK: number - plates,
                ONE_EACH: 1,
                FEW: each - 1,
                MANY: each + 1,
            }
            yield Ask("each", fact, (number, plates), each, wrong_answers(slips, each))
            if depth == CHALLENGE:
                back = {PLATES: plates, ONE_EACH: each, TOOK: each + plates}
                near = {FEW: number - 1, MANY: number + 1}
                yield Ask(
                    "how many",
                    fact,
                    (plates, each),
                    number,
                    wrong_answers({**back, **near}, number),
                )


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the shared plates with support, empty plates and the things beside them at core."""
    number, plates = ask.numbers
    if depth == CHALLENGE or number > 20:
        return None
    if depth == WITH_SUPPORT:
        return Plates((number // plates,) * plates)
    return Plates((0,) * plates, loose=number)


def _things(ask: Ask, variant: int) -> tuple[str, ...]:
    """Return what is shared out."""
    return (SHARED[variant % len(SHARED)],)


SHARING_EQUALLY = Kind(
    name="sharing-equally",
    title="Sharing equally",
    practises="Sharing things out so that every plate has the same",
    ranges=(5, 10, 20),
    example="6 spoons shared between 2 plates: □ on each plate",
    forms={
        "each": "How many on each plate",
        "how many": "What is on each plate is given, how many there were is asked for",
    },
    mistakes={
        ALL: "Said how many there are altogether",
        PLATES: "Said how many plates there are",
        TOOK: "Added or took away the number of plates",
        ONE_EACH: "Stopped at one round of sharing",
        **sentences(FEW, MANY),
    },
    depths={
        "with support": "Between two plates; the fair sharing is drawn",
        "core": "Between two or three plates; the things still lie beside the plates",
        "challenge": "Up to five plates, no picture; or how many there were before",
    },
    fetch=("plates and spoons", "bowls and pegs", "cushions and socks"),
    say="One for you, one for me. Has everyone the same? How do you know?",
    right="Things go out one at a time, every plate has the same, and the child says how many.",
    seconds=60,
    asks=_asks,
    picture=_picture,
    things=_things,
    variants=len(SHARED),
)

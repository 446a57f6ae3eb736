"""Counting out a number of things from more of them: the count stops at the number."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, MANY, SELF, sentences
from tasks.numberwork.pictures import Picture, Plates
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

ALL = "put out all of them"
LEFT = {WITH_SUPPORT: 2, CORE: 5}  # how many stay in the heap
ON_A_PLATE = 12


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every amount to count out, the check afterwards, and one more than a number.

    A child who does not stop puts out all there are; one who stops too soon or too late is one
    off. Source: Wynn 1990 (from memory): some children give a handful or all of them whatever is
    asked for. That the last number is how many: Common Core K.CC.B.4b; to count out 1 to 20 of
    them: K.CC.B.5.
    """
    if depth == CHALLENGE:
        for number in range(1, within):
            slips = {SELF: number, MANY: number + 2}
            wrong = wrong_answers(slips, number + 1)
            yield Ask("one more than", f"more:{number}", (number,), number + 1, wrong)
        return
    most = min(within, 10) if depth == WITH_SUPPORT else within
    for number in range(1, most + 1):
        slips = {FEW: number - 1, MANY: number + 1, ALL: number + LEFT[depth]}
        wrong = wrong_answers(slips, number)
        yield Ask("count out", str(number), (number,), number, wrong)
        if depth == CORE and number <= ON_A_PLATE:
            yield Ask("check", f"on the plate:{number}", (), number, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the heap beside an empty plate, or the plate and what is left for the check."""
    if depth == CHALLENGE or not isinstance(ask.answer, int):
        return None
    if ask.form == "check":
        return Plates((ask.answer,), loose=LEFT[depth])
    return Plates((0,), loose=ask.answer + LEFT[depth])


COUNT_OUT = Kind(
    name="count-out",
    title="Counting out",
    practises="Counting out a number of things from more of them, and stopping there",
    ranges=(5, 10, 20),
    example="count out 7: □ on the plate",
    forms={
        "count out": "A number of things to count out from more",
        "check": "The check: how many are on the plate now?",
        "one more than": "One more than a number to count out",
    },
    mistakes={
        **sentences(FEW, MANY, SELF),
        ALL: "Put out all of them and did not stop at the number",
    },
    depths={
        "with support": "Up to ten, from a heap with two too many",
        "core": "Any number of the range, from a heap with five too many; and the check afterwards",
        "challenge": "One more than a number, from things of one's own",
    },
    fetch=("a bowl of spoons and a plate", "a heap of socks and a cushion", "a box of pegs"),
    say="Put them out one at a time. Stop when you have enough. So how many are there?",
    right="Each thing gets one number, the count stops, and the child knows how many without a new "
    "count.",
    seconds=50,
    asks=_asks,
    picture=_picture,
)

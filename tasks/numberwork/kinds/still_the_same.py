"""Moved things are as many as before: spread out, pushed together, and what does change it."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, MANY, SELF, sentences
from tasks.numberwork.pictures import MovedRow, Picture
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

MORE, FEWER, SAME = "more", "fewer", "the same"
LONGER = "went by how long the row is"
CHOICES = (MORE, FEWER, SAME)
LEAST = 2  # one thing cannot be spread out
MOST = 10  # of a row on a card


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every row that is moved, and with more depth what is put in or taken out.

    Source: Common Core K.CC.B.4b, "The number of objects is the same regardless of their
    arrangement"; that young children go by the length of the row: Piaget 1952 (from memory).
    """
    for number in range(LEAST, min(within, MOST) + 1):
        if depth != CHALLENGE:
            for form, by_length in (("spread out", MORE), ("pushed together", FEWER)):
                wrong = wrong_answers({LONGER: by_length}, SAME)
                yield Ask(form, f"{form}:{number}", (number,), SAME, wrong, choices=CHOICES)
        if depth == CORE:
            slips: dict[str, Answer | None] = {FEW: number - 1, MANY: number + 1}
            yield Ask("how many now", str(number), (number,), number, wrong_answers(slips, number))
        if depth != WITH_SUPPORT and number < min(within, MOST):
            yield from _changed(number)


def _changed(number: int) -> Iterator[Ask]:
    """List what is more and what is fewer after all: a thing put in, a thing taken out."""
    more: dict[str, Answer | None] = {SELF: number, MANY: number + 2}
    fewer: dict[str, Answer | None] = {SELF: number + 1, FEW: number - 1}
    yield Ask("one put in", f"in:{number}", (number,), number + 1, wrong_answers(more, number + 1))
    yield Ask("one taken out", f"out:{number}", (number + 1,), number, wrong_answers(fewer, number))


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the row before and after, unless a thing was put in or taken out."""
    if ask.form in ("one put in", "one taken out"):
        return None
    return MovedRow(ask.numbers[0], spread=ask.form != "pushed together")


STILL_THE_SAME = Kind(
    name="still-the-same",
    title="Still the same number",
    practises="Knowing that things are as many as before when they are only moved",
    ranges=(5, 10),
    example="7 in a row, now spread out: more, fewer or the same? □",
    forms={
        "spread out": "A row is spread out: more, fewer or the same?",
        "pushed together": "A row is pushed together: more, fewer or the same?",
        "how many now": "A row is spread out: how many now?",
        "one put in": "Spread out, and one more put in: how many now?",
        "one taken out": "Spread out, and one taken out: how many now?",
    },
    mistakes={
        LONGER: "Went by how long the row is",
        **sentences(FEW, MANY, SELF),
    },
    depths={
        "with support": "Only moved, drawn before and after: more, fewer or the same",
        "core": "Only moved, or one put in or taken out; how many now",
        "challenge": "One put in or taken out, without a picture",
    },
    fetch=("seven spoons in a row", "five socks in a line", "a row of cups"),
    say="Watch. I only move them. Are there more, fewer, or the same? How do you know?",
    right="The child says that it is the same, because none was put in and none taken away.",
    seconds=45,
    asks=_asks,
    picture=_picture,
)

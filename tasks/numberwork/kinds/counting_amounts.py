"""Counting how many: one number for each thing, the last number tells how many."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.kinds.mistakes import FEW, MANY, sentences
from tasks.numberwork.pictures import Picture, ScatteredDots, TenFrame, Things
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

MOST_SCATTERED = 10
COUNTED = ("spoon", "cup", "sock", "key", "leaf", "fork")
LAYOUTS = {
    WITH_SUPPORT: ("rows",),
    CORE: ("rows", "scattered", "frame"),
    CHALLENGE: ("scattered", "one more hidden"),
}
ROW_MISSED = "left out a row of five"


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List amounts in rows, scattered (to ten) and in a ten frame.

    Source: Common Core K.CC.B.5, "as many as 20 things arranged in a line, a rectangular array,
    or a circle, or as many as 10 things in a scattered configuration".
    """
    for number in range(1, within + 1):
        for layout in LAYOUTS[depth]:
            if layout == "scattered" and number > MOST_SCATTERED:
                continue
            slips = {FEW: number - 1, MANY: number + 1, **digit_mistakes(number)}
            if number > 5 and layout != "scattered":
                slips[ROW_MISSED] = number - 5
            wrong = wrong_answers(slips, number)
            yield Ask(layout, f"{layout}:{number}", (), number, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture:
    """Draw the amount; where one is hidden, one fewer is drawn."""
    number = ask.answer if isinstance(ask.answer, int) else 0
    if ask.form == "scattered":
        return ScatteredDots(number, variant)
    if ask.form == "frame":
        return TenFrame(number)
    return Things(COUNTED[variant], number - (ask.form == "one more hidden"))


COUNTING_AMOUNTS = Kind(
    name="counting-amounts",
    title="Counting how many",
    practises="Counting each thing once and saying how many there are",
    ranges=(5, 10, 20),
    example="how many are there? □",
    forms={
        "rows": "Things in rows of five",
        "scattered": "Scattered dots, up to ten",
        "frame": "A ten frame",
        "one more hidden": "Things in rows, and one more hidden under the cloth",
    },
    mistakes={
        **sentences(FEW, MANY),
        ROW_MISSED: "Left out a row of five",
        **DIGITS,
    },
    depths={
        "with support": "Things in rows, to touch one by one",
        "core": "Rows, scattered dots up to ten, and ten frames",
        "challenge": "Scattered dots, or one more hidden",
    },
    fetch=("spoons from the drawer", "stairs", "socks on the line"),
    say="Touch each one as you count. So how many are there? Now begin with another one.",
    right="One number for each thing, none twice; the last number is how many, wherever you begin.",
    seconds=50,
    asks=_asks,
    picture=_picture,
    variants=len(COUNTED),
)

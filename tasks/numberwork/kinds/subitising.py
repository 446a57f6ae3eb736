"""Subitising: seeing how many without counting, up to five."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, MANY, sentences
from tasks.numberwork.pictures import (
    DiceDots,
    Fingers,
    FiveFrame,
    Picture,
    ScatteredDots,
    Things,
    TwoRows,
)
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

MOST = 5  # never "look, don't count" above five
ANY_LAYOUT = 3  # above three only dice and paired layouts
FIVE, LARGER, SMALLER = "always said five", "said the larger part", "said the smaller part"
SEEN = ("cup", "sock", "key", "leaf", "spoon", "pencil")


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List amounts by layout; two parts to see at once for challenge.

    Source: Jansen et al. 2014 (to three in any layout; above, the layout matters) and
    Clements 1999 (five seen as three and two).
    """
    layouts = (
        ("dice", "scattered", "frame")
        if depth == WITH_SUPPORT
        else ("dice", "fingers", "frame", "scattered", "things")
    )
    for number in range(1, MOST + 1):
        slips = {FEW: number - 1, MANY: number + 1, FIVE: MOST}
        for layout in layouts if depth != CHALLENGE else ("dice", "fingers"):
            loose = layout in ("scattered", "things")
            small = number <= ANY_LAYOUT or (not loose and depth != WITH_SUPPORT)
            wanted = small and (depth != CHALLENGE or number > ANY_LAYOUT)
            if wanted:
                wrong = wrong_answers(slips, number)
                yield Ask(layout, f"{layout}:{number}", (), number, wrong)
        if depth != WITH_SUPPORT:
            yield from _two_parts(number, slips, depth)


def _two_parts(number: int, slips: dict[str, int], depth: str) -> Iterator[Ask]:
    """List the ways to see an amount as two rows."""
    for upper in range(1, number):
        lower = number - upper
        if depth == CORE and abs(upper - lower) > 1:
            continue
        parts = {LARGER: max(upper, lower), SMALLER: min(upper, lower)}
        wrong = wrong_answers({**slips, **parts}, number)
        yield Ask("two parts", f"{upper}+{lower}", (), number, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the amount in its layout; the seed scatters dots and picks things."""
    number = ask.answer if isinstance(ask.answer, int) else 0
    if ask.form == "two parts":
        upper, lower = map(int, ask.fact.split("+"))
        return TwoRows(upper, lower)
    if ask.form == "scattered":
        return ScatteredDots(number, variant)
    if ask.form == "things":
        return Things(SEEN[variant % len(SEEN)], number)
    layouts: dict[str, Picture] = {"dice": DiceDots(number), "frame": FiveFrame(number)}
    return layouts.get(ask.form) or Fingers(number)


SUBITISING = Kind(
    name="subitising",
    title="Seeing how many",
    practises="Seeing how many there are, up to five, without counting",
    ranges=(5,),
    example="look, do not count: □",
    forms={
        "dice": "Dots as on a dice",
        "fingers": "Fingers",
        "frame": "A five frame",
        "scattered": "Scattered dots, up to three",
        "things": "Things in a row, up to three",
        "two parts": "Two rows, such as three and two",
    },
    mistakes={
        **sentences(FEW, MANY),
        FIVE: "Said five, as for all the dots",
        LARGER: "Said only the larger row",
        SMALLER: "Said only the smaller row",
    },
    depths={
        "with support": "Up to three, in any layout",
        "core": "Up to five: dice, fingers, five frame and two nearly equal rows",
        "challenge": "Four and five, and any two parts",
    },
    fetch=("a dice", "fingers behind your back", "up to five spoons under a cloth"),
    say="Look for a moment. How many did you see? How did you see it?",
    right="The child says how many at once, without pointing and counting.",
    seconds=20,
    asks=_asks,
    picture=_picture,
    variants=6,
)

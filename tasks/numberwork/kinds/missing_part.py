"""Missing parts: the box in every place of an adding or taking-away sentence."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind
from tasks.numberwork.kinds.parts import (
    PART_FORMS,
    PART_MISTAKES,
    both_parts,
    every_bond,
    picture_of_parts,
)
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

_FORMS: dict[str, tuple[str, ...]] = {
    WITH_SUPPORT: ("second part",),
    CORE: ("second part", "first part", "equals first, second part", "equals first, first part"),
    CHALLENGE: ("first part", "equals first, first part", "taken away", "start"),
}
LEAST_WHOLE = 2


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every whole up to *within* with one part missing, and the open sentences."""
    yield from every_bond(range(LEAST_WHOLE, within + 1), _FORMS[depth], 1)
    if depth != WITH_SUPPORT:
        yield from (both_parts(whole) for whole in range(LEAST_WHOLE, within + 1))


MISSING_PART = Kind(
    name="missing-part",
    title="Missing part",
    practises="Finding what is missing in a number sentence, wherever the box stands",
    ranges=(5, 10, 20),
    example="5 + □ = 8",
    forms=PART_FORMS,
    mistakes=PART_MISTAKES,
    depths={
        "with support": "The second part is missing; a number line shows the way to the whole",
        "core": "Either part, the whole first or last, as part and whole; open sentences",
        "challenge": "Taking away and the starting number too, no picture",
    },
    fetch=("spoons, some under a cloth", "socks in and out of a bag", "cups, some upside down"),
    say="How many can you see? How many should there be? So how many are hiding?",
    right="The child says how many are missing and shows that the whole is right.",
    seconds=50,
    asks=_asks,
    picture=picture_of_parts,
)

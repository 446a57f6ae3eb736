"""Number bonds: the pairs of numbers that make a number."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind
from tasks.numberwork.kinds.parts import (
    PART_FORMS,
    PART_MISTAKES,
    TOOK,
    both_parts,
    every_bond,
    picture_of_parts,
)
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

_FORMS: dict[str, tuple[str, ...]] = {
    WITH_SUPPORT: ("second part",),
    CORE: ("second part", "first part", "equals first, second part"),
    CHALLENGE: (
        "first part",
        "equals first, second part",
        "equals first, first part",
        "taken away",
    ),
}
LEAST_WHOLE = 3  # below three there is little to find


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List the bonds of *within* itself; for challenge the bonds of smaller wholes as well."""
    smallest = LEAST_WHOLE if depth == CHALLENGE else within
    yield from every_bond(range(smallest, within + 1), _FORMS[depth], 0)
    if depth == CHALLENGE:
        yield from (both_parts(whole) for whole in range(smallest, within + 1))


NUMBER_BONDS = Kind(
    name="number-bonds",
    title="Number bonds",
    practises="Knowing the pairs of numbers that make a number",
    ranges=(5, 10, 20),
    example="7 + □ = 10",
    forms={form: words for form, words in PART_FORMS.items() if form != "start"},
    mistakes={name: words for name, words in PART_MISTAKES.items() if name != TOOK},
    depths={
        "with support": "Bonds of the one number, the second part missing, on a number line",
        "core": "Bonds of the one number with either part missing, as part and whole",
        "challenge": "Bonds of smaller numbers too, taking away, any pair, no picture",
    },
    fetch=(
        "fingers, some up and some down",
        "spoons in and out of a cup",
        "pegs on two sides of a hanger",
    ),
    say="How many are hiding? How many altogether? Is there another pair?",
    right="The child names the hidden part without counting every one.",
    seconds=40,
    asks=_asks,
    picture=picture_of_parts,
)

"""Repeating patterns: what comes next, what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.shapes import ALL_RANGES
from tasks.numberwork.pictures import PatternRow
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

AGAIN, START, SWITCHED = "said the last one again", "began the pattern again", "only took turns"
OTHER_THING = "said the thing before that"
THINGS_USED = ("spoon", "fork", "cup", "sock", "key", "leaf")
UNITS = {
    WITH_SUPPORT: ("AB",),
    CORE: ("AB", "ABB", "AAB", "ABC"),
    CHALLENGE: ("AABB", "ABBC", "ABAC"),
}
GAP = "□"


def _rows(unit: str, depth: str) -> Iterator[tuple[int, int]]:
    """List lengths of the row and places of the box: last, or inside for challenge."""
    size = len(unit)
    for length in range(2 * size + 1, 3 * size + 1):
        if depth != CHALLENGE:
            yield length, length - 1
        elif length == 3 * size:
            yield from ((length, place) for place in range(size, 2 * size))


def _mistakes(items: list[str], place: int, unit: list[str]) -> dict[str, Answer | None]:
    """Predict what is laid in the box by a child who has not seen the unit that repeats."""
    turns = next((thing for thing in unit if thing != items[place - 1]), None)
    return {
        AGAIN: items[place - 1],
        START: unit[0],
        SWITCHED: turns,
        OTHER_THING: items[place - 2],
    }


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every pattern of the depth with three neighbouring things of the stock."""
    for first, second, third in permutations(THINGS_USED, 3):
        wide = abs(THINGS_USED.index(first) - THINGS_USED.index(third)) > 3
        for letters in UNITS[depth]:
            if ("C" not in letters and third != min(set(THINGS_USED) - {first, second})) or (
                "C" in letters and wide
            ):
                continue
            unit = [{"A": first, "B": second, "C": third}[letter] for letter in letters]
            for length, place in _rows(letters, depth):
                items = [unit[here % len(unit)] for here in range(length)]
                right = items[place]
                wrong = wrong_answers(_mistakes(items, place, unit), right)
                items[place] = GAP
                form = "next" if place == length - 1 else "inside"
                fact = f"{'+'.join(unit)}:{length}:{place}"
                choices = tuple(dict.fromkeys(unit))
                yield Ask(form, fact, (), right, wrong, choices=choices, things=tuple(items))


def _picture(ask: Ask, depth: str, variant: int) -> PatternRow:
    """Draw the row with its empty box."""
    unit, length, place = ask.fact.split(":")
    return PatternRow(tuple(unit.split("+")), int(length), (int(place),))


REPEATING_PATTERNS = Kind(
    name="repeating-patterns",
    title="Repeating patterns",
    practises="Seeing what repeats, and going on with it",
    ranges=ALL_RANGES,
    example="spoon, fork, spoon, fork, □",
    forms={
        "next": "What comes next in the pattern",
        "inside": "What is missing inside the pattern",
    },
    mistakes={
        AGAIN: "Said the thing just before again",
        START: "Began the pattern again",
        SWITCHED: "Took turns with two things instead of following the pattern",
        OTHER_THING: "Said the thing two places before",
    },
    depths={
        "with support": "Two things taking turns",
        "core": "Patterns of two or three, such as spoon, fork, fork",
        "challenge": "Patterns of four, with the gap inside",
    },
    fetch=("spoons and forks", "socks and shoes", "claps and stamps"),
    say="Say the pattern aloud. Which bit comes again and again?",
    right="The child says what comes next and can show the bit that repeats.",
    seconds=50,
    asks=_asks,
    picture=_picture,
)

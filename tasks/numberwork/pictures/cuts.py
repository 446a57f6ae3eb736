"""The cuts offered for halves of shapes: where each goes, and how hard it is to judge.

A half is exact. A cut that is no half leaves one piece at least one and a half times the other
(reference: pieces meant to look unequal differ by 3:2 in area or more, since younger children's
sense of area is coarse; Odic, Libertus, Feigenson and Halberda 2013).
"""

from math import pi, sin
from typing import NamedTuple

from tasks.numberwork.pictures.ink import Point

Path = tuple[Point, ...]


class Cut(NamedTuple):
    """A path across the field of 100 by 100, and the words that describe it."""

    path: Path
    words: str


def _wave(middle: float, swing: float) -> Path:
    """Return an upright S about *middle*, equal on both sides of its centre under a half turn."""
    steps = [n / 24 for n in range(-24, 25)]
    return tuple((middle + swing * sin(pi * step), 50 + 54 * step) for step in steps)


CUTS: dict[str, Cut] = {
    "upright": Cut(((50, -5), (50, 105)), "straight down the middle"),
    "level": Cut(((-5, 50), (105, 50)), "straight across the middle"),
    "falling": Cut(((0, 0), (100, 100)), "by a slanted line falling to the right"),
    "rising": Cut(((0, 100), (100, 0)), "by a slanted line rising to the right"),
    "long falling": Cut(((2, 22), (98, 78)), "corner to corner, downwards"),
    "long rising": Cut(((2, 78), (98, 22)), "corner to corner, upwards"),
    "tall falling": Cut(((22, 2), (78, 98)), "corner to corner, downwards"),
    "box falling": Cut(((28, 24), (72, 76)), "between the two near corners"),
    "box rising": Cut(((2, 76), (98, 24)), "between the two far corners"),
    "steep": Cut(((30, -5), (70, 105)), "by a slanted line through the middle"),
    "shallow": Cut(((-5, 35), (105, 65)), "by a slanted line through the middle"),
    "steps": Cut(((65, -5), (65, 50), (35, 50), (35, 105)), "by a cut with a step in it"),
    "level steps": Cut(((-5, 36), (50, 36), (50, 64), (105, 64)), "by a cut with a step in it"),
    "stairs": Cut(
        ((74, -5), (74, 36), (50, 36), (50, 64), (26, 64), (26, 105)), "by a cut like stairs"
    ),
    "wave": Cut(_wave(50, 16), "by a wavy cut"),
    "zigzag": Cut(((50, -5), (62, 30), (38, 70), (50, 105)), "by a zigzag cut"),
    "left upright": Cut(((32, -5), (32, 105)), "straight down, to the left"),
    "right upright": Cut(((70, -5), (70, 105)), "straight down, to the right"),
    "high level": Cut(((-5, 30), (105, 30)), "straight across, higher up"),
    "low level": Cut(((-5, 68), (105, 68)), "straight across, lower down"),
    "above middle": Cut(((-5, 40), (105, 40)), "straight across, above the middle"),
    "below middle": Cut(((-5, 61), (105, 61)), "straight across, below the middle"),
    "left of middle": Cut(((39, -5), (39, 105)), "straight down, left of the middle"),
    "half way up": Cut(((-5, 49), (105, 49)), "straight across, half way up"),
    "widest": Cut(((-5, 34), (105, 34)), "straight across its widest part"),
    "inner edge": Cut(((50, 50), (50, 105)), "straight down from the inner corner"),
    "corner off": Cut(((76, -5), (-5, 76)), "across one corner"),
    "low corner off": Cut(((20, 112), (112, 20)), "by a slanted line, low on the right"),
    "corner to side": Cut(((10, 10), (46, 90)), "from a corner to the side opposite"),
    "point to base": Cut(((50, 6), (32, 92)), "from the top corner to the bottom edge"),
    "left wave": Cut(_wave(34, 10), "by a wavy cut, to the left"),
    "right steps": Cut(((82, -5), (82, 50), (62, 50), (62, 105)), "by a cut with a step in it"),
    "left zigzag": Cut(((32, -5), (44, 30), (24, 70), (32, 105)), "by a zigzag cut, to the left"),
}

# Shape, cut and level. Core halves fold edge to edge; challenge halves are less usual, and most
# are equal without folding onto each other.
HALF_CUTS: tuple[tuple[str, str, str], ...] = (
    ("square", "upright", "core"),
    ("square", "level", "core"),
    ("square", "falling", "core"),
    ("square", "rising", "core"),
    ("rectangle", "upright", "core"),
    ("rectangle", "level", "core"),
    ("tall rectangle", "upright", "core"),
    ("tall rectangle", "level", "core"),
    ("circle", "upright", "core"),
    ("circle", "level", "core"),
    ("circle", "falling", "core"),
    ("oval", "upright", "core"),
    ("oval", "level", "core"),
    ("triangle", "upright", "core"),
    ("corner triangle", "rising", "core"),
    ("kite", "upright", "core"),
    ("diamond", "upright", "core"),
    ("diamond", "level", "core"),
    ("heart", "upright", "core"),
    ("plus shape", "level", "core"),
    ("square", "steep", "challenge"),
    ("square", "steps", "challenge"),
    ("square", "stairs", "challenge"),
    ("square", "zigzag", "challenge"),
    ("rectangle", "long falling", "challenge"),
    ("rectangle", "long rising", "challenge"),
    ("rectangle", "steps", "challenge"),
    ("rectangle", "steep", "challenge"),
    ("rectangle", "wave", "challenge"),
    ("tall rectangle", "tall falling", "challenge"),
    ("tall rectangle", "level steps", "challenge"),
    ("tall rectangle", "shallow", "challenge"),
    ("circle", "wave", "challenge"),
    ("circle", "zigzag", "challenge"),
    ("oval", "falling", "challenge"),
    ("oval", "wave", "challenge"),
    ("slanted box", "box falling", "challenge"),
    ("slanted box", "box rising", "challenge"),
    ("L shape", "rising", "challenge"),
    ("plus shape", "falling", "challenge"),
    ("diamond", "steep", "challenge"),
)

NOT_HALF_CUTS: tuple[tuple[str, str, str], ...] = (
    ("square", "left upright", "core"),
    ("square", "low level", "core"),
    ("square", "corner off", "core"),
    ("rectangle", "left upright", "core"),
    ("rectangle", "right upright", "core"),
    ("rectangle", "below middle", "core"),
    ("tall rectangle", "high level", "core"),
    ("tall rectangle", "low level", "core"),
    ("circle", "left upright", "core"),
    ("circle", "high level", "core"),
    ("circle", "low corner off", "core"),
    ("oval", "right upright", "core"),
    ("oval", "above middle", "core"),
    ("triangle", "left of middle", "core"),
    ("triangle", "half way up", "challenge"),
    ("triangle", "point to base", "challenge"),
    ("kite", "widest", "challenge"),
    ("diamond", "above middle", "core"),
    ("heart", "below middle", "core"),
    ("plus shape", "low level", "core"),
    ("square", "corner to side", "challenge"),
    ("square", "right steps", "challenge"),
    ("square", "left zigzag", "challenge"),
    ("rectangle", "right steps", "challenge"),
    ("rectangle", "left wave", "challenge"),
    ("circle", "left wave", "challenge"),
    ("circle", "left zigzag", "challenge"),
    ("oval", "left wave", "challenge"),
    ("L shape", "inner edge", "challenge"),
    ("slanted box", "left upright", "challenge"),
)

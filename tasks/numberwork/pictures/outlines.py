"""Outlines of the shapes that are cut in two, in a field about 100 units wide.

Round shapes are fine polygons which keep the symmetry of the round shape exactly: what halves the
circle halves its polygon.
"""

from math import cos, pi, sin

from tasks.numberwork.pictures.ink import Point

CORNERS = 240  # of a round outline; a multiple of four, so that both axes go through corners


def _round(width: float, height: float) -> tuple[Point, ...]:
    """Return an ellipse centred on the field."""
    turns = [2 * pi * n / CORNERS for n in range(CORNERS)]
    return tuple((50 + width / 2 * cos(turn), 50 + height / 2 * sin(turn)) for turn in turns)


def _heart() -> tuple[Point, ...]:
    """Return a heart, the same on both sides of the upright through its middle."""
    lobe = [(pi * n / 40, 23) for n in range(41)]
    right = [(73 - radius * cos(turn), 36 - radius * sin(turn)) for turn, radius in lobe]
    right.append((50, 92))
    left = [(100 - x, y) for x, y in reversed(right[1:-1])]
    return (*right, *left)


OUTLINES: dict[str, tuple[Point, ...]] = {
    "square": ((10, 10), (90, 10), (90, 90), (10, 90)),
    "rectangle": ((2, 22), (98, 22), (98, 78), (2, 78)),
    "tall rectangle": ((22, 2), (78, 2), (78, 98), (22, 98)),
    "circle": _round(88, 88),
    "oval": _round(96, 60),
    "triangle": ((50, 6), (94, 92), (6, 92)),
    "corner triangle": ((8, 8), (92, 92), (8, 92)),
    "kite": ((50, 2), (82, 34), (50, 98), (18, 34)),
    "diamond": ((50, 6), (86, 50), (50, 94), (14, 50)),
    "slanted box": ((28, 24), (98, 24), (72, 76), (2, 76)),
    "L shape": ((10, 10), (50, 10), (50, 50), (90, 50), (90, 90), (10, 90)),
    "plus shape": (
        *((35, 5), (65, 5), (65, 35), (95, 35), (95, 65), (65, 65)),
        *((65, 95), (35, 95), (35, 65), (5, 65), (5, 35), (35, 35)),
    ),
    "heart": _heart(),
}

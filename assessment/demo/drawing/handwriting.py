"""Numerals and signs as a young child's pencil might leave them."""

import random
import re

from tasks.numberwork.pictures.numerals import STROKES

Point = tuple[float, float]
Line = list[Point]

SIGNS = {
    "+": ("M30 30L30 80", "M5 55L55 55"),
    "-": ("M5 55L55 55",),
    "=": ("M5 45L55 45", "M5 68L55 68"),
    "÷": ("M5 55L55 55", "M28 36L32 36", "M28 74L32 74"),
    " ": (),
}
STEPS = 8  # straight pieces for each curve


def pencilled(text: str, chance: random.Random) -> list[tuple[float, list[Line]]]:
    """Give, for each sign of *text*, its width and its lines, in a square 60 wide and 100 high."""
    strokes = {**STROKES, **SIGNS}
    return [
        (26.0 if sign in "1 " else 60.0, [wobbled(stroke, chance) for stroke in strokes[sign]])
        for sign in text
    ]


def wobbled(path: str, chance: random.Random) -> Line:
    """Follow the SVG *path* (absolute M, L and C) with an unsteady hand."""
    lean, size = chance.uniform(-0.12, 0.12), chance.uniform(0.88, 1.08)
    return [
        (
            size * (x + lean * (50 - y)) + chance.gauss(0, 0.9),
            size * (y - 50) + 50 + chance.gauss(0, 0.9),
        )
        for x, y in flattened(path)
    ]


def flattened(path: str) -> Line:
    """Return the points along *path*; curves are cubic Béziers."""
    points: Line = []
    for command, numbers in re.findall(r"([MLC])([^MLC]*)", path):
        values = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", numbers)]
        pairs = list(zip(values[::2], values[1::2], strict=True))
        if command == "C":
            for start in range(0, len(pairs), 3):
                points += curve(points[-1], *pairs[start : start + 3])
        else:
            points += pairs
    return points


def curve(a: Point, b: Point, c: Point, d: Point) -> Line:
    """Return points on the cubic Bézier curve from *a* to *d*, without *a*."""
    line = []
    for step in range(1, STEPS + 1):
        t = step / STEPS
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        x, y = (
            sum(w * p[axis] for w, p in zip(weights, (a, b, c, d), strict=True)) for axis in (0, 1)
        )
        line.append((x, y))
    return line

"""Numerals to trace: each stroke in a wide light band, with a start dot and arrows along it."""

import re
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from tasks.numberwork.pictures.ink import (
    MARGIN,
    Point,
    arrow_head,
    mark,
    ring,
    solid,
    squares,
)
from tasks.numberwork.pictures.numerals import numeral_width, placed_digits
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole

TALL = 120.0
BAND = 17.0
SQUARE = 20.0
FINE = 12  # straight pieces to a curve

# How each digit is written, in words for the adult (common practice, no source).
WAYS: dict[str, str] = {
    "0": "start at the top, go round to the left and back to the start",
    "1": "start on the left, go up to the top, then straight down",
    "2": "start on the left, go over, down to the left, then along",
    "3": "start on the left, go over and round, then round again",
    "4": "start at the top, go down and along; then a second stroke straight down",
    "5": "start at the top, go down and round; then a second stroke along the top",
    "6": "start at the top, go down and round to the left, and close the loop",
    "7": "start on the left, go along the top, then down",
    "8": "start at the top, make an S, then go back up to the start",
    "9": "start at the top, go round to the left and close the loop, then straight down",
}

_STEP = re.compile(r"([MLC])([^MLC]+)")


def along(data: str) -> list[Point]:
    """Return points along path data of one stroke (absolute M, L and C), in writing order."""
    points: list[Point] = []
    for step in _STEP.finditer(data):
        numbers = [float(word) for word in re.findall(r"-?[\d.]+", step[2])]
        pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
        points += _curve(points[-1], *pairs) if step[1] == "C" else pairs
    return points


def _curve(a: Point, b: Point, c: Point, d: Point) -> list[Point]:
    """Return points on the cubic curve from a to d with handles b and c, without a itself."""
    points = []
    for n in range(1, FINE + 1):
        t = n / FINE
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        xs, ys = zip(a, b, c, d, strict=True)
        points.append((_blend(weights, xs), _blend(weights, ys)))
    return points


def _blend(weights: tuple[float, ...], values: tuple[float, ...]) -> float:
    return sum(weight * value for weight, value in zip(weights, values, strict=True))


def arrows(points: list[Point], every: float = 46.0) -> list[str]:
    """Draw arrow heads along *points*, so many units apart, and at an end away from the start."""
    marks, gone, start = [], 0.0, points[0]
    for behind, tip in pairwise(points):
        before, gone = gone, gone + hypot(tip[0] - behind[0], tip[1] - behind[1])
        at_end = tip == points[-1] and hypot(tip[0] - start[0], tip[1] - start[1]) > every / 4
        if before // every < gone // every or at_end:
            marks.append(arrow_head(behind, tip))
    return marks


@dataclass(frozen=True, slots=True)
class NumeralTrace(Picture):
    """The numeral of a number from 0 to 20, to trace on squared paper.

    The start of a first stroke is a solid dot, that of a second stroke an open one.
    """

    number: int

    def __post_init__(self) -> None:
        check_whole("number", self.number, 0, 20)

    @property
    def strokes(self) -> tuple[int, ...]:
        """Return how many strokes each digit takes."""
        digits = placed_digits(self.number, 0, 0, TALL)
        return tuple(len(strokes) for strokes in digits)

    @property
    def alt(self) -> str:
        """Say which numeral it is and how it is written."""
        ways = [f"{digit}: {WAYS[digit]}." for digit in str(self.number)]
        return f"The numeral {self.number} to trace. {' '.join(ways)}"

    def draw(self) -> Drawing:
        """Lay out the numeral on squared paper, with a square left free on each side."""
        columns = int(-(-numeral_width(self.number, TALL) // SQUARE)) + 3
        rows = int(TALL / SQUARE) + 2
        width, height = columns * SQUARE + 2 * MARGIN, rows * SQUARE + 2 * MARGIN
        marks = [squares(MARGIN, MARGIN, columns, rows, SQUARE)]
        for strokes in placed_digits(self.number, width / 2, MARGIN + SQUARE, TALL):
            marks += [mark("path", d=s, stroke_width=BAND, stroke_opacity=0.2) for s in strokes]
            for place, stroke in enumerate(strokes):
                points = along(stroke)
                marks += [*arrows(points), _start(points[0], first=place == 0)]
                marks.append(mark("path", d=stroke, stroke_width=1.2, stroke_dasharray="5 5"))
        return Drawing(width, height, tuple(marks))


def _start(point: Point, first: bool) -> str:
    x, y = point
    return solid(x, y, 6.5) if first else ring(x, y, 10)

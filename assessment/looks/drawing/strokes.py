"""Strokes over a picture: their shapes, what may be kept, and their outlines.

Places are whole thousandths of the picture's width, across and down from its upper left corner,
so that a ring stays round at any size.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, cos, sin
from typing import Any

RING, ARROW, TICK, LINE, NUMBER = "ring", "arrow", "tick", "line", "number"
# How many numbers follow the name of a shape: two corners or ends, or a place and the number.
LENGTHS = {RING: 4, ARROW: 4, TICK: 4, NUMBER: 3}
MOST = 60  # on one picture
LONGEST_LINE = 400  # numbers: two hundred places
FURTHEST = 20_000  # thousandths of the width; the thinnest picture that is kept is not as high
HEAD, HEAD_ANGLE = 45, 0.5  # of an arrow: thousandths of the width, radians


@dataclass(frozen=True, slots=True)
class Stroke:
    """One shape and its numbers, as `read_strokes` says."""

    shape: str
    numbers: tuple[int, ...]

    @property
    def outline(self) -> str:
        """Return the outline as the data of an SVG path (SVG 2, chapter 9); "" for a number."""
        match self.shape:
            case "ring":
                return _ring(*self.numbers)
            case "arrow":
                return _arrow(*self.numbers)
            case "tick":
                left, top, right, bottom = self.numbers
                across, half = (right - left) // 3, (bottom - top) // 2
                return f"M{left} {top + half}L{left + across} {bottom}L{right} {top}"
            case "line":
                places = zip(self.numbers[::2], self.numbers[1::2], strict=True)
                return "M" + "L".join(f"{x} {y}" for x, y in places)
        return ""

    @property
    def written(self) -> tuple[int, int, int] | None:
        """Return the place of a number and the number; None for what has an outline."""
        if self.shape != NUMBER:
            return None
        x, y, number = self.numbers
        return x, y, number


def _ring(left: int, top: int, right: int, bottom: int) -> str:
    across, down = (right - left) // 2, (bottom - top) // 2
    around = f"a{across} {down} 0 1 0"
    return f"M{left} {top + down}{around} {2 * across} 0{around} {-2 * across} 0"


def _arrow(x: int, y: int, to_x: int, to_y: int) -> str:
    angle = atan2(to_y - y, to_x - x)
    ends = [
        f"{round(to_x - HEAD * cos(angle + turn))} {round(to_y - HEAD * sin(angle + turn))}"
        for turn in (-HEAD_ANGLE, HEAD_ANGLE)
    ]
    return f"M{x} {y}L{to_x} {to_y}M{ends[0]}L{to_x} {to_y}L{ends[1]}"


def read_strokes(data: Any) -> dict[str, list[list[str | int]]]:
    """Return what was drawn, by picture, as it is kept: lists of a shape's name and its numbers.

    A ring and a tick fill the box of two corners, an arrow goes from one place to another, a line
    through many; a number is a place and one of 0 to 99. Pictures without strokes are left out.
    Raises ValueError for anything else.
    """
    if not isinstance(data, Mapping):
        raise ValueError("strokes must be listed by picture")
    kept = {}
    for picture, strokes in data.items():
        if not isinstance(strokes, list) or len(strokes) > MOST:
            raise ValueError(f"on one picture at most {MOST} strokes can be kept")
        if strokes:
            kept[str(picture)] = [_checked(stroke) for stroke in strokes]
    return kept


def _checked(stroke: Any) -> list[str | int]:
    if not isinstance(stroke, list) or not stroke or not isinstance(stroke[0], str):
        raise ValueError("a stroke must be a shape's name and its numbers")
    shape, *numbers = stroke
    if not all(type(number) is int and 0 <= number <= FURTHEST for number in numbers):
        raise ValueError(f"a stroke's numbers must be whole, 0 to {FURTHEST}")
    if shape == LINE:
        fits = 4 <= len(numbers) <= LONGEST_LINE and len(numbers) % 2 == 0
    else:
        fits = len(numbers) == LENGTHS.get(shape)
    if not fits or (shape == NUMBER and numbers[2] > 99):
        raise ValueError(f"not a stroke that can be kept: {shape[:10]}")
    return [shape, *numbers]


def strokes_of(kept: list[list[Any]]) -> list[Stroke]:
    """Return the strokes of one picture from what `read_strokes` gave for it."""
    return [Stroke(shape, tuple(numbers)) for shape, *numbers in kept]

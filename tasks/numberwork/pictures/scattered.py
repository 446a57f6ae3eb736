"""Scattered dots, which can only be counted by keeping track of each one."""

import random
from dataclasses import dataclass
from math import hypot

from tasks.numberwork.pictures.ink import COUNTER, MARGIN, Point, ring, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of

SPACING = 24.0
WIDTH, HEIGHT = 220.0, 200.0


def scatter(rng: random.Random, number: int, width: float, height: float) -> list[Point]:
    """Place *number* points in width by height, every two at least SPACING apart.

    Each point blocks a disc of radius SPACING; as long as (number - 1) such discs cover less than
    the area there is always room for one more, so this ends. Otherwise ValueError.
    """
    if (number - 1) * 3.15 * SPACING**2 >= width * height:
        raise ValueError(f"no sure room for {number} dots in {width} by {height}")
    points: list[Point] = []
    while len(points) < number:
        x, y = rng.random() * width, rng.random() * height
        if all(hypot(x - px, y - py) >= SPACING for px, py in points):
            points.append((x, y))
    return points


def dots_at(points: list[Point], left: float, top: float, hollow: bool = False) -> list[str]:
    """Draw a dot for each of *points*, their origin at left, top."""
    dot = ring if hollow else solid
    return [dot(left + x, top + y) for x, y in points]


@dataclass(frozen=True, slots=True)
class ScatteredDots(Picture):
    """1 to 20 dots in no order, none touching another; the same seed gives the same picture.

    Counting a scattered set is asked for up to 10 (K.CC.B.5: "as many as 10 things in a scattered
    configuration"). More are drawn for estimating and comparing only: see `countable`.
    """

    number: int
    seed: int

    def __post_init__(self) -> None:
        check_whole("number", self.number, 1, 20)
        check_whole("seed", self.seed, 0, 2**63)

    @property
    def countable(self) -> bool:
        """Tell whether a child of this age may be asked to count them (10 at most)."""
        return self.number <= 10

    @property
    def alt(self) -> str:
        """Say how many dots there are."""
        return f"{count_of(self.number, 'dot')}, scattered."

    def draw(self) -> Drawing:
        """Scatter the dots over the sheet."""
        points = scatter(random.Random(self.seed), self.number, WIDTH, HEIGHT)
        edge = MARGIN + COUNTER
        return Drawing(WIDTH + 2 * edge, HEIGHT + 2 * edge, tuple(dots_at(points, edge, edge)))

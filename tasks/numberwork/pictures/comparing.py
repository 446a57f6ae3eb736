"""Two sets to compare: lined up one to one, or scattered, to be seen or counted."""

import random
from dataclasses import dataclass

from tasks.numberwork.pictures.counters import PITCH, lot
from tasks.numberwork.pictures.ink import COUNTER, MARGIN, box, line, ring, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of
from tasks.numberwork.pictures.scattered import dots_at, scatter

ROW_GAP = 34.0
PER_LINE = 10
SET_WIDTH, SET_HEIGHT = 132.0, 200.0
BETWEEN = 12.0
LOTS_APART = 24.0


@dataclass(frozen=True, slots=True)
class TwoRows(Picture):
    """A row of solid counters over a row of outlined ones, each 0 to 20, partners in line.

    Beyond ten both rows go on below, still in line.
    """

    upper: int
    lower: int

    def __post_init__(self) -> None:
        check_whole("upper", self.upper, 0, 20)
        check_whole("lower", self.lower, 0, 20)

    @property
    def alt(self) -> str:
        """Say how many are in each row."""
        upper = count_of(self.upper, "solid counter")
        below = count_of(self.lower, "outlined counter")
        return f"Two rows lined up: {upper} above, {below} below."

    def draw(self) -> Drawing:
        """Lay out the rows from one starting line, ten pairs to a line."""
        first, longest = MARGIN + 8 + COUNTER, max(self.upper, self.lower, 5)
        lines, both = -(-longest // PER_LINE), ROW_GAP + 2 * COUNTER
        marks: list[str] = []
        for place in range(longest):
            x = first + place % PER_LINE * PITCH
            y = MARGIN + COUNTER + place // PER_LINE * (both + ROW_GAP)
            marks += [solid(x, y)] if place < self.upper else []
            marks += [ring(x, y + ROW_GAP)] if place < self.lower else []
        for top in (MARGIN + each * (both + ROW_GAP) for each in range(lines)):
            marks.append(line(MARGIN, top, MARGIN, top + both))
        width = first + (min(longest, PER_LINE) - 1) * PITCH + COUNTER + MARGIN
        return Drawing(width, lines * (both + ROW_GAP) - ROW_GAP + 2 * MARGIN, tuple(marks))


@dataclass(frozen=True, slots=True)
class TwoLots(Picture):
    """A lot of solid counters and a lot of outlined ones, each 0 to 20, put together.

    Each lot lies in fives of its own: nothing is in line with a partner, since nothing is compared.
    """

    first: int
    second: int

    def __post_init__(self) -> None:
        check_whole("first", self.first, 0, 20)
        check_whole("second", self.second, 0, 20)

    @property
    def alt(self) -> str:
        """Say how many are in each lot."""
        first = count_of(self.first, "solid counter")
        return f"Two lots: {first} and {count_of(self.second, 'outlined counter')}."

    def draw(self) -> Drawing:
        """Lay out the second lot beside the first."""
        marks, right, low = lot(self.first, MARGIN, solid)
        more, right, lower = lot(self.second, right + LOTS_APART, ring)
        return Drawing(right + MARGIN, max(low, lower) + MARGIN, (*marks, *more))


@dataclass(frozen=True, slots=True)
class CompareSets(Picture):
    """Two boxes of 0 to 10 scattered dots of one size; the same seed gives the same picture.

    Source for 10: K.CC.C.6, "Include groups with up to ten objects".
    """

    left: int
    right: int
    seed: int = 0

    def __post_init__(self) -> None:
        check_whole("left", self.left, 0, 10)
        check_whole("right", self.right, 0, 10)
        check_whole("seed", self.seed, 0, 2**63)

    @property
    def by_looking_ok(self) -> bool:
        """Tell whether a child may be asked which is more without counting.

        One set must be at least twice the other. Source: the model of Halberda and Feigenson
        (2008), by which nearly nine in ten four-year-old answers are then right.
        """
        fewer, more = sorted((self.left, self.right))
        return more >= 2 * fewer and more > 0

    @property
    def alt(self) -> str:
        """Say how many dots are in each box."""
        left = count_of(self.left, "dot")
        return f"Two boxes: {left} on the left, {count_of(self.right, 'dot')} on the right."

    def draw(self) -> Drawing:
        """Lay out the boxes side by side."""
        rng = random.Random(self.seed)
        marks: list[str] = []
        inset = COUNTER + 4
        for place, number in enumerate((self.left, self.right)):
            x = MARGIN + place * (SET_WIDTH + BETWEEN)
            points = scatter(rng, number, SET_WIDTH - 2 * inset, SET_HEIGHT - 2 * inset)
            marks.append(box(x, MARGIN, SET_WIDTH, SET_HEIGHT))
            marks += dots_at(points, x + inset, MARGIN + inset)
        width = 2 * SET_WIDTH + BETWEEN + 2 * MARGIN
        return Drawing(width, SET_HEIGHT + 2 * MARGIN, tuple(marks))

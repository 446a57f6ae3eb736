"""Two sets to compare: lined up one to one, or scattered, to be seen or counted."""

import random
from dataclasses import dataclass

from tasks.numberwork.pictures.counters import DOT, PITCH
from tasks.numberwork.pictures.ink import MARGIN, box, line, ring, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of
from tasks.numberwork.pictures.scattered import DOT as SCATTERED_DOT
from tasks.numberwork.pictures.scattered import dots_at, scatter

ROW_GAP = 46.0
SET_WIDTH, SET_HEIGHT = 142.0, 170.0
BETWEEN = 16.0


@dataclass(frozen=True, slots=True)
class TwoRows(Picture):
    """A row of solid counters over a row of outlined ones, each 0 to 20, partners in line."""

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
        """Lay out the rows from one starting line."""
        top, first = MARGIN + DOT, MARGIN + 12 + DOT
        marks = [line(MARGIN, MARGIN, MARGIN, MARGIN + ROW_GAP + 2 * DOT)]
        marks += [solid(first + place * PITCH, top, DOT) for place in range(self.upper)]
        marks += [ring(first + place * PITCH, top + ROW_GAP, DOT) for place in range(self.lower)]
        longest = max(self.upper, self.lower, 5)
        width = first + (longest - 1) * PITCH + DOT + MARGIN
        return Drawing(width, top + ROW_GAP + DOT + MARGIN, tuple(marks))


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
        inset = SCATTERED_DOT + 4
        for place, number in enumerate((self.left, self.right)):
            x = MARGIN + place * (SET_WIDTH + BETWEEN)
            points = scatter(rng, number, SET_WIDTH - 2 * inset, SET_HEIGHT - 2 * inset)
            marks.append(box(x, MARGIN, SET_WIDTH, SET_HEIGHT))
            marks += dots_at(points, x + inset, MARGIN + inset)
        width = 2 * SET_WIDTH + BETWEEN + 2 * MARGIN
        return Drawing(width, SET_HEIGHT + 2 * MARGIN, tuple(marks))

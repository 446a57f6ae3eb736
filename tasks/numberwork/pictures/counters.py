"""Counters laid out in order: loose in fives, and in rows and columns."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, cross, mark, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of

PITCH = 28.0
DOT = 10.0
FIVES_GAP = 12.0
MOST = 30


def spot(place: int, per_row: int) -> tuple[float, float]:
    """Return the middle of the counter at *place*, with a gap after each five in a row."""
    column, row = place % per_row, place // per_row
    x = MARGIN + DOT + column * PITCH + column // 5 * FIVES_GAP
    return x, MARGIN + DOT + row * PITCH


@dataclass(frozen=True, slots=True)
class Counters(Picture):
    """0 to 30 counters, the last *crossed* of them crossed out.

    Up to ten lie in rows of five; more in rows of ten, with a gap after the fifth.
    """

    number: int
    crossed: int = 0

    def __post_init__(self) -> None:
        check_whole("number", self.number, 0, MOST)
        check_whole("crossed", self.crossed, 0, self.number)

    @property
    def alt(self) -> str:
        """Say how many counters there are and how many are crossed out."""
        crossed = f", {self.crossed} of them crossed out" if self.crossed else ""
        return f"{count_of(self.number, 'counter')}{crossed}."

    @property
    def per_row(self) -> int:
        """Return how many counters a full row holds."""
        return 5 if self.number <= 10 else 10

    def draw(self) -> Drawing:
        """Lay out the counters, the crossed ones last."""
        marks: list[str] = []
        for place in range(self.number):
            x, y = spot(place, self.per_row)
            marks.append(_counter(x, y))
            if place >= self.number - self.crossed:
                marks.append(cross(x, y, DOT))
        right, bottom = (
            spot(self.per_row - 1, self.per_row)[0],
            spot(max(self.number - 1, 0), self.per_row)[1],
        )
        return Drawing(right + DOT + MARGIN, bottom + DOT + MARGIN, tuple(marks))


def _counter(x: float, y: float) -> str:
    """Draw a counter light enough for a cross to be seen on it."""
    return mark("circle", cx=x, cy=y, r=DOT, fill="currentColor", fill_opacity=0.25)


@dataclass(frozen=True, slots=True)
class Array(Picture):
    """Counters in 1 to 10 equal rows of 1 to 10."""

    rows: int
    columns: int

    def __post_init__(self) -> None:
        check_whole("rows", self.rows, 1, 10)
        check_whole("columns", self.columns, 1, 10)

    @property
    def alt(self) -> str:
        """Say how many rows there are and how many counters each holds."""
        return f"{count_of(self.rows, 'row')} of {count_of(self.columns, 'counter')}."

    def draw(self) -> Drawing:
        """Lay out the rows, without any gap that is not a row or a column."""
        edge = MARGIN + DOT
        marks = tuple(
            solid(edge + column * PITCH, edge + row * PITCH, DOT)
            for row in range(self.rows)
            for column in range(self.columns)
        )
        side = 2 * edge - PITCH
        return Drawing(self.columns * PITCH + side, self.rows * PITCH + side, marks)

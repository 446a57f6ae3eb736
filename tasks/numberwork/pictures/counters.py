"""Counters laid out in order: loose in fives, and in rows and columns."""

from collections.abc import Callable
from dataclasses import dataclass

from tasks.numberwork.pictures.ink import (
    COUNTER,
    MARGIN,
    WIDEST,
    arrow_head,
    cross,
    line,
    mark,
    solid,
)
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of

PITCH = 26.0
FIVES_GAP = 10.0
MOST = 30
CLOSE, FAR = 22.5, 48.0  # the distance of counters pushed together, and spread out at the most
MOVED_BY = 66.0


def spot(place: int, per_row: int) -> tuple[float, float]:
    """Return the middle of the counter at *place*, with a gap after each five in a row."""
    column, row = place % per_row, place // per_row
    x = MARGIN + COUNTER + column * PITCH + column // 5 * FIVES_GAP
    return x, MARGIN + COUNTER + row * PITCH


def lot(
    number: int, left: float, drawn: Callable[[float, float], str]
) -> tuple[list[str], float, float]:
    """Draw a lot of counters in rows of five from *left*; give them and their right and lower end.

    An empty lot takes the room of one counter.
    """
    columns, rows = max(1, min(number, 5)), max(1, -(-number // 5))
    first_x, first_y = left + COUNTER, MARGIN + COUNTER
    marks = [
        drawn(first_x + place % 5 * PITCH, first_y + place // 5 * PITCH) for place in range(number)
    ]
    right = first_x + (columns - 1) * PITCH + COUNTER
    return marks, right, first_y + (rows - 1) * PITCH + COUNTER


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
                marks.append(cross(x, y, COUNTER))
        right, bottom = (
            spot(self.per_row - 1, self.per_row)[0],
            spot(max(self.number - 1, 0), self.per_row)[1],
        )
        return Drawing(right + COUNTER + MARGIN, bottom + COUNTER + MARGIN, tuple(marks))


def _counter(x: float, y: float) -> str:
    """Draw a counter light enough for a cross to be seen on it."""
    return mark("circle", cx=x, cy=y, r=COUNTER, fill="currentColor", fill_opacity=0.25)


@dataclass(frozen=True, slots=True)
class MovedRow(Picture):
    """A row of 2 to 10 counters, and the same counters below it, *spread* out or pushed together.

    The closer row is the upper one where they are spread, the lower one where they are pushed.
    """

    number: int
    spread: bool = True

    def __post_init__(self) -> None:
        check_whole("number", self.number, 2, 10)
        if type(self.spread) is not bool:
            raise ValueError(f"spread must be True or False, not {self.spread!r}")

    @property
    def alt(self) -> str:
        """Say how many there were and what was done, and not how many there are."""
        how = "spread out" if self.spread else "pushed together"
        return f"A row of {count_of(self.number, 'counter')}, and the same row {how} below."

    def draw(self) -> Drawing:
        """Lay out the row as it was, an arrow, and the row as it is, about one middle."""
        wide = min(FAR, (WIDEST - 2 * MARGIN - 2 * COUNTER) / (self.number - 1))
        pitches = (CLOSE, wide) if self.spread else (wide, CLOSE)
        middle, marks = WIDEST / 2, list[str]()
        for row, pitch in enumerate(pitches):
            left = middle - (self.number - 1) / 2 * pitch
            y = MARGIN + COUNTER + row * MOVED_BY
            marks += [solid(left + place * pitch, y) for place in range(self.number)]
        top, foot = MARGIN + 2 * COUNTER + 8, MARGIN + MOVED_BY - 8
        marks += [line(middle, top, middle, foot), arrow_head((middle, top), (middle, foot))]
        return Drawing(WIDEST, MOVED_BY + 2 * COUNTER + 2 * MARGIN, tuple(marks))


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
        edge = MARGIN + COUNTER
        marks = tuple(
            solid(edge + column * PITCH, edge + row * PITCH)
            for row in range(self.rows)
            for column in range(self.columns)
        )
        side = 2 * edge - PITCH
        return Drawing(self.columns * PITCH + side, self.rows * PITCH + side, marks)

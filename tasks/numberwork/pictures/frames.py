"""Five frames and ten frames: rows of five squares, filled from the upper left."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, box, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of

CELL = 26.0
GAP = 14.0


def _frame(left: float, rows: int, filled: int) -> list[str]:
    """Draw rows of five squares from *left*, the first *filled* of them with a counter."""
    marks = []
    for place in range(5 * rows):
        x, y = left + place % 5 * CELL, MARGIN + place // 5 * CELL
        marks.append(box(x, y, CELL, CELL))
        if place < filled:
            marks.append(solid(x + CELL / 2, y + CELL / 2))
    return marks


@dataclass(frozen=True, slots=True)
class FiveFrame(Picture):
    """One row of five squares with 0 to 5 of them filled."""

    filled: int

    def __post_init__(self) -> None:
        check_whole("filled", self.filled, 0, 5)

    @property
    def alt(self) -> str:
        """Say how many squares are filled."""
        return f"A five frame with {count_of(self.filled, 'counter')}."

    def draw(self) -> Drawing:
        """Lay out one row of five."""
        marks = _frame(MARGIN, 1, self.filled)
        return Drawing(5 * CELL + 2 * MARGIN, CELL + 2 * MARGIN, tuple(marks))


@dataclass(frozen=True, slots=True)
class TenFrame(Picture):
    """Two rows of five squares; 0 to 20 filled, above ten in a second frame beside the first."""

    filled: int

    def __post_init__(self) -> None:
        check_whole("filled", self.filled, 0, 20)

    @property
    def alt(self) -> str:
        """Say how many squares are filled, frame by frame."""
        if self.filled <= 10:
            return f"A ten frame with {count_of(self.filled, 'counter')}."
        more = self.filled - 10
        return f"Two ten frames with {self.filled} counters: 10 in the first, {more} in the second."

    def draw(self) -> Drawing:
        """Lay out one frame, or two side by side."""
        marks = _frame(MARGIN, 2, min(self.filled, 10))
        width = 5 * CELL + 2 * MARGIN
        if self.filled > 10:
            marks += _frame(width - MARGIN + GAP, 2, self.filled - 10)
            width += 5 * CELL + GAP
        return Drawing(width, 2 * CELL + 2 * MARGIN, tuple(marks))

"""The hundred square, parts of it, and what comes after it: rows of ten."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import LINE, NUMERAL, WIDEST, mark, tinted
from tasks.numberwork.pictures.numerals import NARROW, numeral, numeral_width
from tasks.numberwork.pictures.picture import (
    Drawing,
    Picture,
    check_whole,
    check_wholes,
    count_of,
    listed,
)

MARGIN = 3.0
CELL = (WIDEST - 2 * MARGIN) / 10
LARGEST = 200


@dataclass(frozen=True, slots=True)
class HundredSquare(Picture):
    """The numbers *first* to *last* (1 to 200) in rows of ten, each under its last digit.

    marked: numbers in a shaded square with a bold edge.
    hidden: numbers whose square is left empty.
    """

    marked: tuple[int, ...] = ()
    hidden: tuple[int, ...] = ()
    first: int = 1
    last: int = 100

    def __post_init__(self) -> None:
        check_whole("first", self.first, 1, LARGEST)
        check_whole("last", self.last, self.first, LARGEST)
        check_wholes("marked", self.marked, self.first, self.last)
        check_wholes("hidden", self.hidden, self.first, self.last)

    @property
    def alt(self) -> str:
        """Describe the square, without the numbers that are hidden."""
        words = [f"Numbers {self.first} to {self.last} in rows of ten"]
        if self.first in self.hidden or self.last in self.hidden:
            words = [f"{self.last - self.first + 1} numbers in rows of ten"]
        if self.hidden:
            words.append(f"{count_of(len(self.hidden), 'square')} left empty")
        shown = [str(value) for value in self.marked if value not in self.hidden]
        if shown:
            words.append(f"{listed(shown)} shaded")
        if len(shown) < len(self.marked):
            words.append(f"{count_of(len(self.marked) - len(shown), 'empty square')} shaded")
        return f"{', '.join(words)}."

    def _corner(self, value: int) -> tuple[float, float]:
        """Return the upper left corner of a number's square."""
        rows = (value - 1) // 10 - (self.first - 1) // 10
        return MARGIN + (value - 1) % 10 * CELL, MARGIN + rows * CELL

    def draw(self) -> Drawing:
        """Lay out the squares, the shaded ones last so that their edges lie on top."""
        numbers = range(self.first, self.last + 1)
        marks = [self._square(value) for value in numbers]
        for value in numbers:
            x, y = self._corner(value)
            if value in self.marked:
                marks.append(tinted(x + 1, y + 1, CELL - 2, CELL - 2))
            if value not in self.hidden:
                marks.append(numeral(value, x + CELL / 2, y + CELL / 2, NUMERAL, _narrow(value)))
        bottom = self._corner(self.last)[1] + CELL
        return Drawing(10 * CELL + 2 * MARGIN, bottom + MARGIN, tuple(marks))

    def _square(self, value: int) -> str:
        x, y = self._corner(value)
        weight = LINE / 2
        return mark("rect", x=x, y=y, width=CELL, height=CELL, stroke_width=weight)


def _narrow(value: int) -> float:
    """Return how much of its width a numeral keeps so that it goes into its square."""
    return min(NARROW, (CELL - 8) / numeral_width(value, NUMERAL))

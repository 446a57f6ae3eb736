"""Cards with a numeral each, laid in a row; an empty card is one to be found."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import LINE, MARGIN, NUMERAL, mark
from tasks.numberwork.pictures.numerals import NARROW, numeral
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, listed

CARD, TALL = 48.0, 66.0
GAP = 8.0
PER_ROW = 5


@dataclass(frozen=True, slots=True)
class NumberCards(Picture):
    """One to ten cards, each with a number from 0 to 200, or None for an empty card."""

    numbers: tuple[int | None, ...]

    def __post_init__(self) -> None:
        if not isinstance(self.numbers, tuple) or not 1 <= len(self.numbers) <= 10:
            raise ValueError(f"numbers must be a tuple of one to ten, not {self.numbers!r}")
        for value in self.numbers:
            if value is not None:
                check_whole("each of numbers", value, 0, 200)

    @property
    def alt(self) -> str:
        """Read the cards from left to right."""
        words = ["an empty card" if value is None else str(value) for value in self.numbers]
        return f"Number cards: {listed(words)}."

    def draw(self) -> Drawing:
        """Lay out the cards, five to a row."""
        marks = []
        for place, value in enumerate(self.numbers):
            x = MARGIN + place % PER_ROW * (CARD + GAP)
            y = MARGIN + place // PER_ROW * (TALL + GAP)
            edge = {"x": x, "y": y, "width": CARD, "height": TALL, "rx": 5, "stroke_width": LINE}
            marks.append(mark("rect", **edge))
            if value is not None:
                size, narrow = (30, 1.0) if value < 100 else (NUMERAL, NARROW)
                marks.append(numeral(value, x + CARD / 2, y + TALL / 2, size, narrow))
        columns, rows = min(len(self.numbers), PER_ROW), -(-len(self.numbers) // PER_ROW)
        width = columns * (CARD + GAP) - GAP + 2 * MARGIN
        return Drawing(width, rows * (TALL + GAP) - GAP + 2 * MARGIN, tuple(marks))

"""A whole and its parts, each in a box, joined by lines; what is to be found is an empty box."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, NUMERAL, box, line
from tasks.numberwork.pictures.numerals import NARROW, numeral
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, listed

BOX = 48.0
GAP = 24.0
DROP = 34.0
LARGEST = 100


def _said(value: int | None) -> str:
    return "an empty box" if value is None else str(value)


@dataclass(frozen=True, slots=True)
class PartWhole(Picture):
    """A whole (0 to 100) above its two to four parts; None is drawn as an empty box.

    Where all are known the parts make the whole; otherwise the known parts do not exceed it.
    """

    whole: int | None
    parts: tuple[int | None, ...]

    def __post_init__(self) -> None:
        if not isinstance(self.parts, tuple) or not 2 <= len(self.parts) <= 4:
            raise ValueError(f"parts must be a tuple of two to four, not {self.parts!r}")
        for value in (self.whole, *self.parts):
            if value is not None:
                check_whole("whole and parts", value, 0, LARGEST)
        known = [part for part in self.parts if part is not None]
        if self.whole is None:
            return
        complete = len(known) == len(self.parts)
        if sum(known) > self.whole or (complete and sum(known) != self.whole):
            raise ValueError(f"parts {self.parts!r} do not make {self.whole}")

    @property
    def alt(self) -> str:
        """Say whole and parts, and where a box is empty."""
        parts = listed([_said(part) for part in self.parts])
        return f"Part–whole picture. Whole: {_said(self.whole)}. Parts: {parts}."

    def draw(self) -> Drawing:
        """Lay out the whole over its parts."""
        width = len(self.parts) * (BOX + GAP) - GAP + 2 * MARGIN
        low = MARGIN + BOX + DROP
        marks = _boxed(self.whole, width / 2 - BOX / 2, MARGIN)
        for place, part in enumerate(self.parts):
            left = MARGIN + place * (BOX + GAP)
            marks += _boxed(part, left, low)
            spread = (place + 1) / (len(self.parts) + 1) * BOX - BOX / 2
            marks.append(line(width / 2 + spread, MARGIN + BOX, left + BOX / 2, low))
        return Drawing(width, low + BOX + MARGIN, tuple(marks))


def _boxed(value: int | None, left: float, top: float) -> list[str]:
    marks = [box(left, top, BOX, BOX)]
    if value is not None:
        size, narrow = (26, 1.0) if value < 100 else (NUMERAL, NARROW)
        marks.append(numeral(value, left + BOX / 2, top + BOX / 2, size, narrow))
    return marks

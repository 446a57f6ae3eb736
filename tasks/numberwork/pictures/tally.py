"""Tally marks: four strokes, and the fifth across them."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, line, squares
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole

STEP = 9.0
GROUP = 5 * STEP + 10
TALL = 40.0
ROW = TALL + 20
PER_ROW = 5


def _group(left: float, top: float, strokes: int) -> list[str]:
    """Draw 1 to 5 strokes; the fifth goes across the four."""
    upright = range(1, min(strokes, 4) + 1)
    marks = [line(left + n * STEP, top, left + n * STEP, top + TALL, bold=True) for n in upright]
    if strokes == 5:
        marks.append(line(left, top + TALL * 0.78, left + 5 * STEP, top + TALL * 0.22, bold=True))
    return marks


@dataclass(frozen=True, slots=True)
class Tally(Picture):
    """A tally of 0 to 50, in fives, five groups to a row."""

    number: int

    def __post_init__(self) -> None:
        check_whole("number", self.number, 0, 50)

    @property
    def groups(self) -> tuple[int, ...]:
        """Return the strokes of each group: fives, then the rest."""
        fives, rest = divmod(self.number, 5)
        return (5,) * fives + ((rest,) if rest else ())

    @property
    def alt(self) -> str:
        """Say what the tally shows."""
        return f"A tally of {self.number}." if self.number else "A tally with no strokes yet: 0."

    def draw(self) -> Drawing:
        """Lay out the groups on squared paper."""
        columns = max(1, min(len(self.groups), PER_ROW))
        rows = max(1, -(-len(self.groups) // PER_ROW))
        marks = [squares(MARGIN, MARGIN, int(columns * GROUP / 20), int(rows * ROW / 20), 20)]
        for place, strokes in enumerate(self.groups):
            left = MARGIN + place % PER_ROW * GROUP + 5
            marks += _group(left, MARGIN + place // PER_ROW * ROW + 10, strokes)
        return Drawing(columns * GROUP + 2 * MARGIN, rows * ROW + 2 * MARGIN, tuple(marks))

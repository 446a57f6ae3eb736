"""Dots laid out as on dice, to be seen at once instead of counted."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import COUNTER, LINE, MARGIN, Point, mark, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of

# Columns and rows 0 to 2 of a square, as in the die faces U+2680 to U+2685.
FACES: dict[int, tuple[Point, ...]] = {
    1: ((1, 1),),
    2: ((0, 2), (2, 0)),
    3: ((0, 2), (1, 1), (2, 0)),
    4: ((0, 0), (2, 0), (0, 2), (2, 2)),
    5: ((0, 0), (2, 0), (1, 1), (0, 2), (2, 2)),
    6: ((0, 0), (2, 0), (0, 1), (2, 1), (0, 2), (2, 2)),
}
SIDE = 92.0
PITCH = 27.0
APART = SIDE + 24  # the five and the rest stand further apart than the dots of either


def face(number: int, left: float, top: float) -> list[str]:
    """Draw the dots of a die face, 1 to 6, in a square of SIDE units at left, top."""
    start = SIDE / 2 - PITCH
    return [
        solid(left + start + column * PITCH, top + start + row * PITCH, COUNTER)
        for column, row in FACES[number]
    ]


def _square(left: float, top: float) -> str:
    return mark("rect", x=left, y=top, width=SIDE, height=SIDE, rx=10, stroke_width=LINE)


@dataclass(frozen=True, slots=True)
class DiceDots(Picture):
    """One face of a die, 1 to 6."""

    number: int

    def __post_init__(self) -> None:
        check_whole("number", self.number, 1, 6)

    @property
    def alt(self) -> str:
        """Say how many dots the face has."""
        return f"{count_of(self.number, 'dot')}, as on a die."

    def draw(self) -> Drawing:
        """Lay out the face in its square."""
        marks = (_square(MARGIN, MARGIN), *face(self.number, MARGIN, MARGIN))
        return Drawing(SIDE + 2 * MARGIN, SIDE + 2 * MARGIN, marks)


@dataclass(frozen=True, slots=True)
class FiveAndDots(Picture):
    """1 to 10 dots: five as on a die, and some more beside them."""

    number: int

    def __post_init__(self) -> None:
        check_whole("number", self.number, 1, 10)

    @property
    def alt(self) -> str:
        """Say how many dots there are; above five, as five and some more."""
        if self.number <= 5:
            return f"{count_of(self.number, 'dot')}."
        return f"{self.number} dots: 5 and {self.number - 5} more."

    def draw(self) -> Drawing:
        """Lay out the first five on the left, the others on the right."""
        marks = face(min(self.number, 5), MARGIN, MARGIN)
        width = SIDE + 2 * MARGIN
        if self.number > 5:
            marks += face(self.number - 5, MARGIN + APART, MARGIN)
            width += APART
        return Drawing(width, SIDE + 2 * MARGIN, tuple(marks))

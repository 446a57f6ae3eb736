"""A house with windows: things to count that cannot be moved."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, box, line, mark, trail
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of

WINDOW, TALL = 26.0, 32.0
PITCH, STOREY = 40.0, 46.0
PER_ROW = 5
ROOF, WALL = 34.0, 14.0
DOOR_WIDTH, DOOR_HEIGHT = 24.0, 40.0


@dataclass(frozen=True, slots=True)
class House(Picture):
    """The front of a house with 1 to 20 windows of one size, in rows of five from the top."""

    windows: int

    def __post_init__(self) -> None:
        check_whole("windows", self.windows, 1, 20)

    @property
    def alt(self) -> str:
        """Say how many windows there are."""
        return f"A house with {count_of(self.windows, 'window')}."

    def draw(self) -> Drawing:
        """Lay out the roof, the rows of windows and, below them, the door."""
        rows = -(-self.windows // PER_ROW)
        width = PER_ROW * PITCH - (PITCH - WINDOW) + 2 * WALL
        top, height = MARGIN + ROOF, rows * STOREY + WALL + DOOR_HEIGHT
        middle, right, foot = MARGIN + width / 2, MARGIN + width, top + height
        marks = [
            mark("path", d=trail([(MARGIN, top), (middle, MARGIN), (right, top)], closed=True)),
            box(MARGIN, top, width, height),
            box(middle - DOOR_WIDTH / 2, foot - DOOR_HEIGHT, DOOR_WIDTH, DOOR_HEIGHT, bold=True),
        ]
        for place in range(self.windows):
            left = MARGIN + WALL + place % PER_ROW * PITCH
            marks += _window(left, top + WALL + place // PER_ROW * STOREY)
        return Drawing(right + MARGIN, foot + MARGIN, tuple(marks))


def _window(left: float, top: float) -> list[str]:
    """Draw one window with its bars."""
    across, down = top + TALL / 2, left + WINDOW / 2
    return [
        box(left, top, WINDOW, TALL),
        line(left, across, left + WINDOW, across),
        line(down, top, down, top + TALL),
    ]

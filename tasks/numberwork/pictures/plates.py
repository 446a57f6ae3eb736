"""Things shared out on plates, and those still to be shared."""

from dataclasses import dataclass
from math import hypot

from tasks.numberwork.pictures.ink import COUNTER, LINE, MARGIN, WIDEST, Point, mark, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of, listed

PLATE = 86.0  # across, for up to six counters; larger for more
GAP = 7.0
PITCH = 24.0
RIM = 6.5
HEAP = 7  # counters in the lowest row of a heap


def on_plate(number: int) -> list[Point]:
    """Place 0 to 12 counters evenly about the middle of a plate: rows of two, three or four."""
    columns = 2 if number <= 4 else 3 if number <= 9 else 4
    rows = -(-number // columns)
    points = []
    for place in range(number):
        row = place // columns
        in_row = min(columns, number - row * columns)
        x = (place % columns - (in_row - 1) / 2) * PITCH
        points.append((x, (row - (rows - 1) / 2) * PITCH))
    return points


@dataclass(frozen=True, slots=True)
class Plates(Picture):
    """One to six plates with 0 to 12 counters each, and 0 to 30 *loose* ones still to be shared."""

    groups: tuple[int, ...]
    loose: int = 0

    def __post_init__(self) -> None:
        if not isinstance(self.groups, tuple) or not 1 <= len(self.groups) <= 6:
            raise ValueError(f"groups must be a tuple of one to six, not {self.groups!r}")
        for group in self.groups:
            check_whole("each of groups", group, 0, 12)
        check_whole("loose", self.loose, 0, 30)

    @property
    def alt(self) -> str:
        """Say how many are on each plate and how many are loose."""
        plates = count_of(len(self.groups), "plate")
        loose = f"{count_of(self.loose, 'counter')} not on a plate yet, and " if self.loose else ""
        if not any(self.groups):
            return f"{loose}{plates} with nothing on.".capitalize()
        return (
            f"{loose}{plates} with {listed([str(n) for n in self.groups])} counters.".capitalize()
        )

    def draw(self) -> Drawing:
        """Lay out the loose counters above, the plates below, as many to a row as there is room."""
        across = plate_across(max(self.groups))
        per_row = min(len(self.groups), int((WIDEST - 2 * MARGIN + GAP) // (across + GAP)))
        plates = per_row * (across + GAP) - GAP
        heap = (min(self.loose, HEAP) - 1) * PITCH + 2 * COUNTER
        width = max(plates, heap) + 2 * MARGIN
        marks, top = _loose(self.loose, width / 2)
        for place, group in enumerate(self.groups):
            row, column = divmod(place, per_row)
            in_row = min(per_row, len(self.groups) - row * per_row)
            x = width / 2 + (column - (in_row - 1) / 2) * (across + GAP)
            marks += _plate(group, x, top + across / 2 + row * (across + GAP), across)
        rows = -(-len(self.groups) // per_row)
        return Drawing(width, top + rows * (across + GAP) - GAP + MARGIN, tuple(marks))


def plate_across(most: int) -> float:
    """Return how far across a plate is that holds up to *most* counters."""
    reach = max((hypot(x, y) for x, y in on_plate(most)), default=0.0) + COUNTER
    return max(PLATE, 2 * (reach + RIM))


def heaped(number: int) -> list[int]:
    """Return the rows of a heap: seven, six, seven and so on, so that no two rows are a half.

    >>> heaped(18), heaped(10), heaped(12), heaped(4)
    ([7, 6, 5], [7, 3], [7, 5], [4])
    """
    rows: list[int] = []
    while number > 0:
        rows.append(min(number, HEAP - len(rows) % 2))
        number -= rows[-1]
    return rows


def _loose(number: int, middle: float) -> tuple[list[str], float]:
    """Draw a heap of counters about *middle*; give them and where the plates begin.

    Nothing in a heap is grouped: in fives or tens 18 would look as if it were shared into 10 and 8.
    """
    marks, rows = [], heaped(number)
    first = middle - (min(number, HEAP) - 1) / 2 * PITCH
    for row, in_row in enumerate(rows):
        left = first + row % 2 * PITCH / 2
        y = MARGIN + COUNTER + row * PITCH
        marks += [solid(left + place * PITCH, y) for place in range(in_row)]
    return marks, MARGIN + (len(rows) * PITCH + GAP if rows else 0)


def _plate(number: int, x: float, y: float, across: float) -> list[str]:
    """Draw a plate with its rim, centred at x, y, and the counters on it."""
    outer = mark("circle", cx=x, cy=y, r=across / 2, stroke_width=LINE)
    inner = mark("circle", cx=x, cy=y, r=across / 2 - 5, stroke_width=LINE / 2)
    return [outer, inner, *(solid(x + dx, y + dy) for dx, dy in on_plate(number))]

"""Things shared out on plates, and those still to be shared."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import LINE, MARGIN, Point, mark, solid
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole, count_of, listed

PLATE = 96.0
GAP = 8.0
DOT = 7.5
PITCH = 19.0
PER_ROW = 3


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
    """One to six plates with 0 to 12 counters each, and 0 to 20 *loose* ones still to be shared."""

    groups: tuple[int, ...]
    loose: int = 0

    def __post_init__(self) -> None:
        if not isinstance(self.groups, tuple) or not 1 <= len(self.groups) <= 6:
            raise ValueError(f"groups must be a tuple of one to six, not {self.groups!r}")
        for group in self.groups:
            check_whole("each of groups", group, 0, 12)
        check_whole("loose", self.loose, 0, 20)

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
        """Lay out the loose counters above, the plates below."""
        columns = min(len(self.groups), PER_ROW)
        width = max(columns * (PLATE + GAP) - GAP, 10 * PITCH if self.loose else 0) + 2 * MARGIN
        marks, top = _loose(self.loose, width / 2)
        for place, group in enumerate(self.groups):
            in_row = min(PER_ROW, len(self.groups) - place // PER_ROW * PER_ROW)
            x = width / 2 + (place % PER_ROW - (in_row - 1) / 2) * (PLATE + GAP)
            marks += _plate(group, x, top + PLATE / 2 + place // PER_ROW * (PLATE + GAP))
        rows = -(-len(self.groups) // PER_ROW)
        return Drawing(width, top + rows * (PLATE + GAP) - GAP + MARGIN, tuple(marks))


def _loose(number: int, middle: float) -> tuple[list[str], float]:
    """Draw counters in rows of ten about *middle*; give them and where the plates begin."""
    marks = []
    for place in range(number):
        x = middle + (place % 10 - 4.5) * PITCH
        marks.append(solid(x, MARGIN + DOT + place // 10 * PITCH, DOT))
    rows = -(-number // 10)
    return marks, MARGIN + (rows * PITCH + GAP if rows else 0)


def _plate(number: int, x: float, y: float) -> list[str]:
    """Draw a plate with its rim, centred at x, y, and the counters on it."""
    outer = mark("circle", cx=x, cy=y, r=PLATE / 2, stroke_width=LINE)
    inner = mark("circle", cx=x, cy=y, r=PLATE / 2 - 5, stroke_width=LINE / 2)
    return [outer, inner, *(solid(x + dx, y + dy, DOT) for dx, dy in on_plate(number))]

"""Two rows of things that do not line up, to be matched one to one."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, WIDEST, line
from tasks.numberwork.pictures.picture import Drawing, Picture, check_whole
from tasks.numberwork.pictures.rows_of_things import SIDE
from tasks.numberwork.pictures.things import thing_marks, things_named

UPPER, LOWER = "spoon", "cup"
FEWEST, MOST = 2, 8
CLOSE = 31.0  # from one thing to the next in the closer row
APART = 66.0  # between the rows: room for a line to be drawn
LONGER_BY = 28.0  # at the least, and where there is room a fifth as well


@dataclass(frozen=True, slots=True)
class LooseRows(Picture):
    """A row of 2 to 8 spoons over a row of 2 to 8 cups, the one called *longer* spread out.

    longer: "spoon" or "cup", the row that reaches further whatever its number.
    matched: lines join each to one of the other row.
    """

    upper: int
    lower: int
    longer: str = UPPER
    matched: bool = False

    def __post_init__(self) -> None:
        check_whole("upper", self.upper, FEWEST, MOST)
        check_whole("lower", self.lower, FEWEST, MOST)
        if self.longer not in (UPPER, LOWER):
            raise ValueError(f"longer must be {UPPER!r} or {LOWER!r}, not {self.longer!r}")
        if type(self.matched) is not bool:
            raise ValueError(f"matched must be True or False, not {self.matched!r}")

    @property
    def alt(self) -> str:
        """Say how many are in each row, and whether they are matched."""
        rows = f"{things_named(UPPER, self.upper)} above, {things_named(LOWER, self.lower)} below"
        return f"{rows}, {'matched by lines' if self.matched else 'not lined up'}."

    @property
    def places(self) -> tuple[list[float], list[float]]:
        """Return the left edge of each thing of the upper row, and of the lower row."""
        near, far = (self.lower, self.upper) if self.longer == UPPER else (self.upper, self.lower)
        room = WIDEST - 2 * MARGIN
        short = _length(near)
        wanted = max(short + LONGER_BY, short * 1.2, _length(far))
        pitch = (min(room, wanted) - SIDE) / (far - 1)
        spread = [MARGIN + place * pitch for place in range(far)]
        first = MARGIN + (spread[-1] + SIDE - MARGIN - short) / 2
        close = [first + place * CLOSE for place in range(near)]
        return (spread, close) if self.longer == UPPER else (close, spread)

    def draw(self) -> Drawing:
        """Lay out the rows, the closer one about the middle of the other."""
        upper, lower = self.places
        below = MARGIN + SIDE + APART
        marks: list[str] = []
        for name, lefts, top in ((UPPER, upper, MARGIN), (LOWER, lower, below)):
            for left in lefts:
                marks += thing_marks(name, left, top, SIDE / 40)
        if self.matched:
            for over, under in zip(upper, lower, strict=False):
                marks.append(line(over + SIDE / 2, MARGIN + SIDE + 4, under + SIDE / 2, below - 4))
        width = max(*upper, *lower) + SIDE + MARGIN
        return Drawing(width, below + SIDE + MARGIN, tuple(marks))


def _length(number: int) -> float:
    """Return how long a close row of so many is."""
    return (number - 1) * CLOSE + SIDE

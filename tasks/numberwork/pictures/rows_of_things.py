"""Everyday things in rows: repeating patterns, and things to count or to take away."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, box, cross
from tasks.numberwork.pictures.picture import (
    Drawing,
    Picture,
    check_whole,
    check_wholes,
    listed,
)
from tasks.numberwork.pictures.things import check_thing, thing_marks, things_named

SIDE = 30.0
PITCH = 35.0
LONGEST = 12
PER_LINE = 8  # things of a pattern that go side by side on a card


def corner(place: int, per_row: int) -> tuple[float, float]:
    """Return the upper left corner of the thing at *place*."""
    return MARGIN + place % per_row * PITCH, MARGIN + place // per_row * PITCH


def _sheet(columns: int, rows: int, marks: list[str]) -> Drawing:
    edge = 2 * MARGIN - (PITCH - SIDE)
    return Drawing(columns * PITCH + edge, rows * PITCH + edge, tuple(marks))


@dataclass(frozen=True, slots=True)
class PatternRow(Picture):
    """A row of *length* things (12 at most) that repeats *unit*, two to five names of THINGS.

    hidden: places, counted from 0, where an empty box stands for the thing. changed: a place, and
    the thing that lies there though the unit has another.
    """

    unit: tuple[str, ...]
    length: int
    hidden: tuple[int, ...] = ()
    changed: tuple[int, str] | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.unit, tuple) or not 2 <= len(self.unit) <= 5:
            raise ValueError(f"unit must be a tuple of two to five things, not {self.unit!r}")
        for name in self.unit:
            check_thing(name)
        if len(set(self.unit)) == 1:
            raise ValueError(f"unit needs two different things, not {self.unit!r}")
        check_whole("length", self.length, len(self.unit), LONGEST)
        check_wholes("hidden", self.hidden, 0, self.length - 1)
        if self.changed is not None:
            place, name = self.changed
            check_whole("the place changed", place, 0, self.length - 1)
            check_thing(name)

    @property
    def items(self) -> tuple[str, ...]:
        """Return the things of the whole row, the hidden ones too."""
        row = [self.unit[place % len(self.unit)] for place in range(self.length)]
        if self.changed is not None:
            row[self.changed[0]] = self.changed[1]
        return tuple(row)

    @property
    def alt(self) -> str:
        """Name the things from left to right, without the hidden ones."""
        words = [
            "an empty box" if place in self.hidden else name
            for place, name in enumerate(self.items)
        ]
        return f"A row: {listed(words)}."

    def draw(self) -> Drawing:
        """Lay out the row in one line; a long one goes on below after whole units."""
        size, marks = len(self.unit), list[str]()
        per_line = self.length if self.length <= PER_LINE else PER_LINE // size * size
        for place, name in enumerate(self.items):
            left, top = corner(place, per_line)
            if place in self.hidden:
                marks.append(box(left + 1, top + 1, SIDE - 2, SIDE - 2))
            else:
                marks += thing_marks(name, left, top, SIDE / 40)
        return _sheet(per_line, -(-self.length // per_line), marks)


@dataclass(frozen=True, slots=True)
class Things(Picture):
    """0 to 20 of one thing (a name of THINGS) in rows of five, the last *crossed* crossed out."""

    thing: str
    number: int
    crossed: int = 0

    def __post_init__(self) -> None:
        check_thing(self.thing)
        check_whole("number", self.number, 0, 20)
        check_whole("crossed", self.crossed, 0, self.number)

    @property
    def alt(self) -> str:
        """Say how many things there are and how many are crossed out."""
        crossed = f", {self.crossed} of them crossed out" if self.crossed else ""
        return f"{things_named(self.thing, self.number)}{crossed}."

    def draw(self) -> Drawing:
        """Lay out the things, five to a row."""
        marks: list[str] = []
        for place in range(self.number):
            left, top = corner(place, 5)
            marks += thing_marks(self.thing, left, top, SIDE / 40)
            if place >= self.number - self.crossed:
                marks.append(cross(left + SIDE / 2, top + SIDE / 2, SIDE / 2))
        return _sheet(5, max(1, -(-self.number // 5)), marks)

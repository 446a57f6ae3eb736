"""Number lines: straight, from left to right, with jumps drawn as arcs above."""

from dataclasses import dataclass
from itertools import pairwise

from tasks.numberwork.pictures.ink import (
    MARGIN,
    NUMERAL,
    WIDEST,
    arrow_head,
    box,
    line,
    mark,
    solid,
    trail,
)
from tasks.numberwork.pictures.numerals import NARROW, numeral, numeral_width
from tasks.numberwork.pictures.picture import (
    Drawing,
    Picture,
    check_whole,
    check_wholes,
    count_of,
    listed,
)

LARGEST = 200
MOST_STEPS = 30
ROOMY = 54.0  # the distance of two ticks at the most
TICK = 6.0
SOLID = 6.0
BOX = 24.0
CLEAR = 4.0  # between two numerals
LINE_OF_JUMP = 2.5


@dataclass(frozen=True, slots=True)
class NumberLine(Picture):
    """A line from *start* to *end* (0 to 200) with a numeral at every *step*.

    marked: numbers on the line with a solid dot on the line.
    jumps: (from, to) pairs between numbers on the line, drawn as arcs in that direction.
    hidden: numbers whose numeral is left out, with an empty box in its place.
    numeral: how high its numerals are, 10 to 40 units.
    Where there is no room for every numeral some numbers have their tick alone: see `labelled`.
    """

    start: int
    end: int
    marked: tuple[int, ...] = ()
    jumps: tuple[tuple[int, int], ...] = ()
    hidden: tuple[int, ...] = ()
    step: int = 1
    numeral: int = int(NUMERAL)

    def __post_init__(self) -> None:
        check_whole("start", self.start, 0, LARGEST - 1)
        check_whole("end", self.end, self.start + 1, LARGEST)
        check_whole("numeral", self.numeral, 10, 40)
        check_whole("step", self.step, 1, self.end - self.start)
        if (self.end - self.start) % self.step or len(self.numbers) > MOST_STEPS + 1:
            raise ValueError(f"step must go 1 to {MOST_STEPS} times into the line, not {self.step}")
        for name, numbers in (("marked", self.marked), ("hidden", self.hidden)):
            check_wholes(name, numbers, self.start, self.end)
            self._check_on_line(name, numbers)
        self._check_jumps()

    def _check_on_line(self, name: str, numbers: tuple[int, ...]) -> None:
        for value in numbers:
            if (value - self.start) % self.step:
                raise ValueError(f"{name} has {value}, which is not on the line")

    def _check_jumps(self) -> None:
        if not isinstance(self.jumps, tuple):
            raise ValueError(f"jumps must be a tuple, not {self.jumps!r}")
        for jump in self.jumps:
            if not isinstance(jump, tuple) or len(jump) != 2 or jump[0] == jump[1]:
                raise ValueError(f"a jump goes from one number to another, not {jump!r}")
            check_wholes("jumps", jump, self.start, self.end)
            self._check_on_line("jumps", jump)

    @property
    def numbers(self) -> range:
        """Return the numbers on the line."""
        return range(self.start, self.end + 1, self.step)

    @property
    def alt(self) -> str:
        """Describe the line, without the numbers that are hidden."""
        words = [f"A number line from {self._said(self.start)} to {self._said(self.end)}"]
        if self.step > 1:
            words.append(f"in steps of {self.step}")
        if self.hidden:
            words.append(f"with {count_of(len(self.hidden), 'number')} left out")
        if self.marked:
            words.append(f"{listed([self._said(n) for n in self.marked])} marked")
        for jump in self.jumps:
            words.append(f"a jump from {self._said(jump[0])} to {self._said(jump[1])}")
        return f"{', '.join(words)}."

    def _said(self, value: int) -> str:
        return "an empty box" if value in self.hidden else str(value)

    @property
    def _edge(self) -> float:
        """Return how far the first and the last number stand from the edge of the sheet."""
        return MARGIN + max(self._wide_numeral(self.end) / 2, SOLID) + 1

    @property
    def _pitch(self) -> float:
        """Return the distance of two ticks: the line is as long as a card has room for."""
        return min(ROOMY, (WIDEST - 2 * self._edge) / (len(self.numbers) - 1))

    @property
    def _rise(self) -> float:
        """Return the room the jumps need above the line."""
        longest = max((abs(b - a) for a, b in self.jumps), default=0) / self.step * self._pitch
        return min(60.0, 12 + longest * 0.3) if longest else TICK

    def _x(self, value: int) -> float:
        return self._edge + (value - self.start) / self.step * self._pitch

    @property
    def _level(self) -> float:
        """Return how far down the sheet the line runs."""
        return MARGIN + self._rise + 4

    def place_of(self, value: int) -> tuple[float, float]:
        """Return where a number of the line stands on the sheet."""
        return self._x(value), self._level

    @property
    def labelled(self) -> tuple[int, ...]:
        """Return the numbers that have their numeral (or box) below them, in order.

        All of them, where there is room. Otherwise all that are hidden; then what is marked and
        where jumps begin and end, the ends of the line, the tens and the fives, as far as none
        touch.
        """
        if all(self._clear(*pair) for pair in pairwise(self.numbers)):
            return tuple(self.numbers)
        ends = [jump[0] for jump in self.jumps[:1]] + [jump[1] for jump in self.jumps[-1:]]
        first = [*self.marked, *ends, self.start, self.end]
        tens = [value for value in self.numbers if value % 10 == 0]
        fives = [value for value in self.numbers if value % 5 == 0]
        placed = list(self.hidden)
        for value in dict.fromkeys([*first, *tens, *fives]):
            if all(self._clear(value, other) for other in placed):
                placed.append(value)
        return tuple(sorted(placed))

    def _clear(self, value: int, other: int) -> bool:
        """Tell whether the numerals of two numbers do not touch."""
        return abs(self._x(value) - self._x(other)) >= (
            (self._wide(value) + self._wide(other)) / 2 + CLEAR
        )

    @property
    def _box(self) -> float:
        """Return how wide an empty box is: narrower where two stand side by side."""
        near = min((b - a for a, b in pairwise(sorted(self.hidden))), default=self.end)
        return min(BOX, near / self.step * self._pitch - 2)

    def _wide_numeral(self, value: int) -> float:
        """Return how wide the numeral of a number is below the line."""
        return numeral_width(value, self.numeral, NARROW)

    def _wide(self, value: int) -> float:
        return self._box if value in self.hidden else self._wide_numeral(value)

    def draw(self) -> Drawing:
        """Lay out line, ticks, numerals, dots and jumps."""
        level = self._level
        width = self._x(self.end) + self._edge
        marks = [line(MARGIN, level, width - MARGIN, level)]
        labelled = self.labelled
        for value in self.numbers:
            marks += self._tick(value, level, value in labelled)
        for jump in self.jumps:
            marks += self._jump(jump, level - TICK - 2)
        return Drawing(width, level + TICK + self.numeral + 10 + MARGIN, tuple(marks))

    def _tick(self, value: int, level: float, labelled: bool) -> list[str]:
        x, below = self._x(value), level + TICK + 4
        reach = TICK if labelled else TICK / 2
        marks = [line(x, level - reach, x, level + reach)]
        if value in self.hidden and labelled:
            marks.append(box(x - self._box / 2, below, self._box, self.numeral + 4))
        elif labelled:
            marks.append(numeral(value, x, below + 2 + self.numeral / 2, self.numeral, NARROW))
        if value in self.marked:
            marks.append(solid(x, level, SOLID))
        return marks

    def _jump(self, jump: tuple[int, int], foot: float) -> list[str]:
        """Draw one arc, with an arrow head where no further jump goes on from its end."""
        start, end = self._x(jump[0]), self._x(jump[1])
        top = foot - 2 * min(self._rise - TICK - 2, 12 + abs(end - start) * 0.3 - TICK)
        peak = ((start + end) / 2, max(top, foot - 2 * (self._rise - TICK)))
        arc = mark("path", d=_curve((start, foot), peak, (end, foot)), stroke_width=LINE_OF_JUMP)
        goes_on = any(other[0] == jump[1] for other in self.jumps)
        return [arc] if goes_on else [arc, arrow_head(peak, (end, foot))]


def hops(start: int, end: int) -> tuple[tuple[int, int], ...]:
    """Return the hops of one each that lead from *start* to *end*, on or back.

    >>> hops(4, 6), hops(6, 4)
    (((4, 5), (5, 6)), ((6, 5), (5, 4)))
    """
    step = 1 if end >= start else -1
    return tuple((here, here + step) for here in range(start, end, step))


def _curve(start: tuple[float, float], bend: tuple[float, float], end: tuple[float, float]) -> str:
    data = trail([start, bend, end])
    return data.replace("L", "Q", 1).replace("L", " ", 1)

"""Number lines: straight, from left to right, with jumps drawn as arcs above."""

from dataclasses import dataclass

from tasks.numberwork.pictures.ink import MARGIN, arrow_head, box, line, mark, solid, trail
from tasks.numberwork.pictures.numerals import numeral, numeral_width
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
NUMERAL = 14.0
TICK = 6.0
LINE_OF_JUMP = 2.5


@dataclass(frozen=True, slots=True)
class NumberLine(Picture):
    """A line from *start* to *end* (0 to 200) with a numeral at every *step*.

    marked: numbers on the line with a solid dot on the line.
    jumps: (from, to) pairs between numbers on the line, drawn as arcs in that direction.
    hidden: numbers whose numeral is left out, with an empty box in its place.
    """

    start: int
    end: int
    marked: tuple[int, ...] = ()
    jumps: tuple[tuple[int, int], ...] = ()
    hidden: tuple[int, ...] = ()
    step: int = 1

    def __post_init__(self) -> None:
        check_whole("start", self.start, 0, LARGEST - 1)
        check_whole("end", self.end, self.start + 1, LARGEST)
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
    def _pitch(self) -> float:
        """Give the distance of two ticks: a 320-unit line, unless the numerals need more room."""
        widest = numeral_width(self.end, NUMERAL)
        return max(300 / (len(self.numbers) - 1), widest + 5)

    @property
    def _rise(self) -> float:
        """Return the room the jumps need above the line."""
        longest = max((abs(b - a) for a, b in self.jumps), default=0) / self.step * self._pitch
        return min(60.0, 12 + longest * 0.3) if longest else TICK

    def _x(self, value: int) -> float:
        edge = MARGIN + max(numeral_width(self.end, NUMERAL) / 2 + 3, 10)
        return edge + (value - self.start) / self.step * self._pitch

    def draw(self) -> Drawing:
        """Lay out line, ticks, numerals, rings and jumps."""
        level = MARGIN + self._rise + 4
        last = self._x(self.end)
        width = last + self._x(self.start)
        marks = [line(MARGIN, level, width - MARGIN, level)]
        for value in self.numbers:
            marks += self._tick(value, level)
        for jump in self.jumps:
            marks += self._jump(jump, level - TICK - 2)
        return Drawing(width, level + TICK + NUMERAL + 12 + MARGIN, tuple(marks))

    def _tick(self, value: int, level: float) -> list[str]:
        x, below = self._x(value), level + TICK + 4
        marks = [line(x, level - TICK, x, level + TICK)]
        if value in self.hidden:
            side = min(NUMERAL + 6, self._pitch - 2)
            marks.append(box(x - side / 2, below - 1, side, NUMERAL + 6))
        else:
            marks.append(numeral(value, x, below + 2 + NUMERAL / 2, NUMERAL))
        if value in self.marked:
            marks.append(solid(x, level, 5))
        return marks

    def _jump(self, jump: tuple[int, int], foot: float) -> list[str]:
        """Draw one arc with an arrow head at its end."""
        start, end = self._x(jump[0]), self._x(jump[1])
        top = foot - 2 * min(self._rise - TICK - 2, 12 + abs(end - start) * 0.3 - TICK)
        peak = ((start + end) / 2, max(top, foot - 2 * (self._rise - TICK)))
        arc = mark("path", d=_curve((start, foot), peak, (end, foot)), stroke_width=LINE_OF_JUMP)
        return [arc, arrow_head(peak, (end, foot))]


def _curve(start: tuple[float, float], bend: tuple[float, float], end: tuple[float, float]) -> str:
    data = trail([start, bend, end])
    return data.replace("L", "Q", 1).replace("L", " ", 1)

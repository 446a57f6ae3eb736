"""The pictures that a teacher can put beside a question of her own, by the numbers she types."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from tasks.numberwork.pictures import (
    Array,
    CompareSets,
    Counters,
    DiceDots,
    Fingers,
    FiveFrame,
    NumberCards,
    NumberLine,
    PartWhole,
    Picture,
    Plates,
    Tally,
    TenFrame,
    TwoRows,
)
from tasks.numberwork.words import BOX

# Whole numbers, and None for an empty box: each picture checks what it is given.
Numbers = Sequence[Any]
LONGEST_LINE = 20  # what a phone has room for with a numeral at every number
_TOKENS = re.compile(rf"\d+|[_?{BOX}]+")


@dataclass(frozen=True, slots=True)
class Drawable:
    """A picture to choose: its title, which numbers it takes, in words, and how it is made.

    make raises TypeError or ValueError for other numbers. None stands for an empty box.
    """

    title: str
    takes: str
    example: str
    make: Callable[[Numbers], Picture]


def _line(numbers: Numbers) -> NumberLine:
    start, end, *marked = numbers
    if not isinstance(start, int) or not isinstance(end, int) or end - start > LONGEST_LINE:
        raise ValueError("a line has two ends, not too far apart")
    return NumberLine(start, end, marked=tuple(each for each in marked if each is not None))


def _plates(numbers: Numbers) -> Plates:
    return Plates(tuple(numbers))


DRAWABLE: Mapping[str, Drawable] = MappingProxyType(
    {
        "counters": Drawable(
            "Counters",
            "how many, 0 to 30; a second number for how many are crossed out",
            "7",
            lambda numbers: Counters(*numbers),
        ),
        "five-frame": Drawable(
            "Five frame", "how many are filled, 0 to 5", "3", lambda numbers: FiveFrame(*numbers)
        ),
        "ten-frame": Drawable(
            "Ten frame", "how many are filled, 0 to 20", "8", lambda numbers: TenFrame(*numbers)
        ),
        "part-whole": Drawable(
            "Part and whole",
            "the whole, then two to four parts; ? for an empty box",
            "8, 5, ?",
            lambda numbers: PartWhole(numbers[0], tuple(numbers[1:])),
        ),
        "number-line": Drawable(
            "Number line",
            f"the two ends, at most {LONGEST_LINE} apart; further numbers get a dot",
            "0, 10, 4",
            _line,
        ),
        "tally": Drawable("Tally", "how many, 0 to 50", "12", lambda numbers: Tally(*numbers)),
        "plates": Drawable(
            "Plates", "how many on each plate, one to six plates, 0 to 12 on each", "4, 4", _plates
        ),
        "heap-and-plates": Drawable(
            "Counters beside two empty plates",
            "how many, 1 to 30",
            "8",
            lambda numbers: Plates((0, 0), *_exactly(1, numbers)),
        ),
        "rows": Drawable(
            "Equal rows of counters",
            "how many rows, and how many in each, 1 to 10",
            "2, 5",
            lambda numbers: Array(*numbers),
        ),
        "two-rows": Drawable(
            "Two rows to compare",
            "how many above, how many below, 0 to 20",
            "6, 4",
            lambda numbers: TwoRows(*numbers),
        ),
        "two-boxes": Drawable(
            "Two boxes of dots to compare",
            "how many on the left, how many on the right, 0 to 10",
            "7, 5",
            lambda numbers: CompareSets(*_exactly(2, numbers)),
        ),
        "dots": Drawable(
            "Dots as on dice", "how many, 1 to 6", "5", lambda numbers: DiceDots(*numbers)
        ),
        "fingers": Drawable("Fingers", "how many, 0 to 10", "6", lambda numbers: Fingers(*numbers)),
        "cards": Drawable(
            "Number cards",
            "one to ten numbers, 0 to 200; ? for an empty card",
            "4, 5, ?, 7",
            lambda numbers: NumberCards(tuple(numbers)),
        ),
    }
)


def _exactly(count: int, numbers: Numbers) -> Numbers:
    if len(numbers) != count:
        raise ValueError(f"{count} and no other count of numbers")
    return numbers


def numbers_in(text: str) -> Numbers:
    """Read the numbers of a picture; None for each empty box. Raises ValueError for other text.

    >>> numbers_in("8, 5, ?")
    [8, 5, None]
    """
    if _TOKENS.sub("", text).strip(" ,;+and\t\r\n"):
        raise ValueError(f"not only numbers: {text!r}")
    found = _TOKENS.findall(text)
    return [int(each[:6]) if each.isdecimal() else None for each in found]


def picture_of(name: str, text: str) -> Picture | None:
    """Return the picture *name* of the numbers in *text*; None for no picture ("").

    Raises ValueError saying which numbers it takes.
    """
    if not name:
        return None
    drawable = DRAWABLE[name]
    try:
        return drawable.make(numbers_in(text))
    except (IndexError, TypeError, ValueError):
        raise ValueError(
            f"{drawable.title}: type {drawable.takes}. Such as: {drawable.example}"
        ) from None

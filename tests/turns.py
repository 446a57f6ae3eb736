"""Slow proofs that take turns: a part of them each day, so that all come round in a few days."""

import datetime as dt
from collections.abc import Sequence
from typing import TypeVar

Thing = TypeVar("Thing")


def whose_turn(part: str, things: Sequence[Thing], day: dt.date) -> list[Thing]:
    """Return those of *things* whose turn it is on *day*.

    part: which part of how many, as "1/3"; on the next day each part has what the one before had.
    ValueError: *part* is not of that form.
    >>> [whose_turn("1/3", "abcde", dt.date(2026, 11, day)) for day in (2, 3, 4)]
    [['b', 'e'], ['a', 'd'], ['c']]
    """
    number, parts = map(int, part.split("/"))
    if not 1 <= number <= parts:
        raise ValueError(f"{part} is no part: 1/3, 2/3 and 3/3 are")
    return [
        thing
        for place, thing in enumerate(things)
        if (place + day.toordinal()) % parts == number - 1
    ]


def today() -> dt.date:
    """Return the day by which turns are taken, the same all over the world."""
    return dt.datetime.now(dt.UTC).date()

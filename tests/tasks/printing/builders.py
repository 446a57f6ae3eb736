"""Things to print for tests, from plain values."""

import dataclasses

from tasks.numberwork import make_prompts
from tasks.printing import A4, SHEETS, Day, Line, Order, Pack, Paper, Part
from tasks.printing.sample import MONDAY, sample_day, sample_line

SEND = "https://portal.example.org/children/7/send/2026-11-23/"


def line(sentence: str = "8 ÷ 2 = □", **more: object) -> Line:
    """Make a prompt without a picture."""
    return Line(**{"sentence": sentence, "spoken": "", "answer": "4", **more})


def part(*lines: Line, **more: object) -> Part:
    """Make a part with no words but its title."""
    empty = {"words": "", "fetch": "", "say": "", "right": "", "cautions": ()}
    return Part(**{"title": "Main task", **empty, "lines": lines or (line(),), **more})


def day(*parts: Part, **more: object) -> Day:
    """Make a day; the invented one if no parts are given."""
    made = dataclasses.replace(sample_day(0), address=SEND)
    return dataclasses.replace(made, **({"parts": parts} if parts else {}), **more)


def order(
    *sheets: str, days: tuple[Day, ...] = (), name: str = "", paper: Paper = A4, up_to: int = 10
) -> Order:
    """Order *sheets* (all of them by default) for one reader."""
    pack = Pack(days or (day(),), "Robins", name)
    return Order((pack,), frozenset(sheets or SHEETS), MONDAY, paper, up_to)


def lines_of(kind: str, within: int, count: int, depth: str = "core") -> tuple[Line, ...]:
    """Return real prompts of one kind as lines."""
    return tuple(map(sample_line, make_prompts(kind, within, count, 7, depth=depth)))

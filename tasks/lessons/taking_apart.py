"""A picture taken apart: what in it can be moved, where that can go, and what stays.

It is read off the picture's own marks, so that a class sees what stands on the card at home.
"""

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from tasks.numberwork.pictures import (
    Array,
    CompareSets,
    Counters,
    FiveFrame,
    LooseRows,
    MovedRow,
    NumberCards,
    NumberLine,
    Picture,
    Plates,
    ScatteredDots,
    TenFrame,
    Things,
    TwoLots,
    TwoRows,
)
from tasks.numberwork.pictures.ink import COUNTER, LINE, MARGIN, number
from tasks.numberwork.pictures.loose_rows import APART, LOWER, UPPER
from tasks.numberwork.pictures.number_cards import TALL
from tasks.numberwork.pictures.number_line import SOLID
from tasks.numberwork.pictures.rows_of_things import SIDE, corner
from tasks.numberwork.pictures.things import thing_marks

_ATTRIBUTE = re.compile(r'([\w-]+)="([^"]*)"')
OF_COUNTERS = (
    *(Array, CompareSets, Counters, FiveFrame, MovedRow, Plates, ScatteredDots, TenFrame),
    *(TwoLots, TwoRows),
)


class Piece(NamedTuple):
    """What can be moved: what it is, its middle, how far it reaches, and its marks as drawn."""

    name: str
    x: float
    y: float
    reach: float
    marks: tuple[str, ...]


class Spot(NamedTuple):
    """Where a piece can go: its middle and how far it reaches.

    holds: how many pieces; one lies in the middle, any number (0) where they are put.
    """

    name: str
    x: float
    y: float
    reach: float
    holds: int


class Apart(NamedTuple):
    """A picture in parts: the marks that stay, what can be moved, and where that can go."""

    ground: tuple[str, ...]
    pieces: tuple[Piece, ...]
    spots: tuple[Spot, ...] = ()


def take_apart(picture: Picture) -> Apart:
    """Take *picture* apart; all of it stays where nothing in it can be moved.

    >>> len(take_apart(Plates((0, 0), loose=8)).pieces), len(take_apart(Plates((4, 4))).spots)
    (8, 2)
    """
    marks = picture.draw().marks
    if isinstance(picture, NumberLine):
        return Apart(*_circles(marks, SOLID, "marker"), _ticks(picture))
    if isinstance(picture, NumberCards):
        return _cards(picture, marks)
    if isinstance(picture, Things):
        corners = [corner(place, 5) for place in range(picture.number)]
        crossed = [place >= picture.number - picture.crossed for place in range(picture.number)]
        return _things([(picture.thing, *each) for each in corners], marks, crossed)
    if isinstance(picture, LooseRows) and not picture.matched:
        upper, lower = picture.places
        below = MARGIN + SIDE + APART
        laid = [(UPPER, left, MARGIN) for left in upper] + [(LOWER, left, below) for left in lower]
        return _things(laid, marks, [False] * len(laid))
    if not isinstance(picture, OF_COUNTERS):
        return Apart(marks, ())
    if isinstance(picture, MovedRow):  # the upper row shows how they lay before
        before, after = marks[: picture.number], marks[picture.number :]
        ground, pieces = _circles(after, COUNTER, "counter")
        return Apart(before + ground, pieces)
    ground, pieces = _circles(marks, COUNTER, "counter")
    return Apart(ground, pieces, tuple(_spots(picture, ground)))


def _circles(
    marks: Iterable[str], radius: float, name: str
) -> tuple[tuple[str, ...], tuple[Piece, ...]]:
    """Part the circles of *radius*, each with the cross drawn over it, from the other marks."""
    ground, pieces = list[str](), list[Piece]()
    crossing = re.compile(r'<path d="M[^"Z]*M[^"Z]*" stroke-width="3.5"/>')
    for each in marks:
        read = _read(each)
        if each.startswith("<circle") and read["r"] == number(radius):
            middle = float(read["cx"]), float(read["cy"])
            pieces.append(Piece(name, *middle, radius, (each,)))
        elif pieces and crossing.fullmatch(each):
            pieces[-1] = pieces[-1]._replace(marks=(*pieces[-1].marks, each))
        else:
            ground.append(each)
    return tuple(ground), tuple(pieces)


def _spots(picture: Picture, ground: Iterable[str]) -> Iterator[Spot]:
    """Yield the plates or the squares of a frame among the marks that stay."""
    rims = [_read(each) for each in ground if each.startswith("<circle")]
    if isinstance(picture, Plates):
        rims = [rim for rim in rims if rim["stroke-width"] == number(LINE)]
        for place, rim in enumerate(rims, 1):
            middle = float(rim["cx"]), float(rim["cy"])
            yield Spot(f"on plate {place}", *middle, float(rim["r"]), 0)
    elif isinstance(picture, FiveFrame | TenFrame):
        boxes = [_read(each) for each in ground if each.startswith("<rect")]
        for place, box in enumerate(boxes, 1):
            half = float(box["width"]) / 2
            middle = float(box["x"]) + half, float(box["y"]) + half
            yield Spot(f"in square {place}", *middle, half, 1)


def _ticks(line: NumberLine) -> tuple[Spot, ...]:
    """Return the numbers of a line as places a marker can stand; a hidden one is not told."""
    apart = line.place_of(line.numbers[1])[0] - line.place_of(line.numbers[0])[0]
    return tuple(
        Spot(
            "at the empty box" if value in line.hidden else f"at {value}",
            *line.place_of(value),
            apart / 2,
            1,
        )
        for value in line.numbers
    )


def _cards(picture: NumberCards, marks: tuple[str, ...]) -> Apart:
    """Part the cards that bear a number from the empty ones."""
    ground, pieces, rest = list[str](), list[Piece](), list(marks)
    for value in picture.numbers:
        card = rest.pop(0)
        if value is None:
            ground.append(card)
            continue
        read = _read(card)
        x = float(read["x"]) + float(read["width"]) / 2
        y = float(read["y"]) + float(read["height"]) / 2
        pieces.append(Piece(f"card {value}", x, y, TALL / 2, (card, rest.pop(0))))
    return Apart(tuple(ground), tuple(pieces))


def _things(
    laid: list[tuple[str, float, float]], marks: tuple[str, ...], crossed: list[bool]
) -> Apart:
    """Give each thing of *laid* (its name and corner) its marks, the cross over it too."""
    pieces, rest = list[Piece](), list(marks)
    for (name, left, top), is_crossed in zip(laid, crossed, strict=True):
        count = len(thing_marks(name, left, top)) + is_crossed
        middle = left + SIDE / 2, top + SIDE / 2
        pieces.append(Piece(name, *middle, SIDE / 2, tuple(rest[:count])))
        del rest[:count]
    return Apart(tuple(rest), tuple(pieces))


def _read(mark: str) -> dict[str, str]:
    """Return the attributes of a mark."""
    return dict(_ATTRIBUTE.findall(mark))

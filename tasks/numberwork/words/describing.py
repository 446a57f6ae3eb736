"""The text alternative of a picture in any language that has the words for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tasks.numberwork import pictures
from tasks.numberwork.pictures.cuts import CUTS
from tasks.numberwork.pictures.halves import shape_named
from tasks.numberwork.pictures.picture import Picture
from tasks.numberwork.pictures.tracing import WAYS
from tasks.numberwork.words import Number, table_of
from tasks.numberwork.words.table import Table


class Teller:
    """Puts the parts of a text alternative together, in one language."""

    def __init__(self, language: str) -> None:
        self.language = language
        self.table: Table = table_of(language)

    def say(self, key: str, *numbers: int, thing: str = "", **words: str) -> str:
        """Fill the template *key*; {0:things} counts *thing*."""
        things = (thing,) if thing else ()
        said = (Number(each, str(each), things, self.language) for each in numbers)
        return self.table.alts[key].format(*said, **words)

    def listed(self, values: list[int | None], empty: str) -> str:
        """List numbers, and what stands for those that are hidden."""
        return self.table.listed([self.number(value, empty) for value in values])

    def number(self, value: int | None, empty: str = "empty box") -> str:
        """Return a number as numerals, or what stands for a hidden one."""
        return self.say(empty) if value is None else str(value)

    def sentence(self, parts: list[str]) -> str:
        """Join parts to one sentence."""
        return f"{self.table.comma.join(parts)}."


def describe(picture: Picture, language: str = "en") -> str:
    """Describe *picture* in *language*, saying no more than it shows.

    Raises ValueError for a language without a table, KeyError where the table has a gap.
    """
    return TOLD[type(picture)](picture, Teller(language))


def _crossed(picture: Any, tell: Teller) -> str:
    if picture.crossed:
        return tell.say("counters, some crossed out", picture.number, picture.crossed)
    return tell.say("counters", picture.number)


def _things(picture: Any, tell: Teller) -> str:
    numbers = (picture.number, picture.crossed) if picture.crossed else (picture.number,)
    key = "things, some crossed out" if picture.crossed else "things"
    return tell.say(key, *numbers, thing=picture.thing)


def _five_and_dots(picture: Any, tell: Teller) -> str:
    if picture.number <= 5:
        return tell.say("dots", picture.number)
    return tell.say("five and dots", picture.number, picture.number - 5)


def _ten_frame(picture: Any, tell: Teller) -> str:
    if picture.filled <= 10:
        return tell.say("ten frame", picture.filled)
    return tell.say("ten frames", picture.filled, picture.filled - 10)


def _fingers(picture: Any, tell: Teller) -> str:
    left, right = picture.hands
    return tell.say("fingers", picture.number, left, right)


def _cut(picture: Any, tell: Teller) -> str:
    shape = tell.table.phrase(shape_named(picture.shape))
    return tell.say("cut", shape=shape, how=tell.table.phrase(CUTS[picture.cut].words))


def _cuts(picture: Any, tell: Teller) -> str:
    shown = []
    for label, cut in zip(picture.labels, picture.cuts, strict=True):
        told = _cut(cut, tell)
        told = f"{told[0].lower()}{told[1:-1]}"
        shown.append(tell.say("cut with a letter", label=label, cut=told))
    return f"{'; '.join(shown)}."


def _square(picture: Any, tell: Teller) -> str:
    if picture.first in picture.hidden or picture.last in picture.hidden:
        parts = [tell.say("square, first or last hidden", picture.last - picture.first + 1)]
    else:
        parts = [tell.say("square", picture.first, picture.last)]
    if picture.hidden:
        parts.append(tell.say("square: left empty", len(picture.hidden)))
    shown = [value for value in picture.marked if value not in picture.hidden]
    if shown:
        parts.append(tell.say("square: shaded", listed=tell.listed(shown, "empty box")))
    if hidden := len(picture.marked) - len(shown):
        parts.append(tell.say("square: empty and shaded", hidden))
    return tell.sentence(parts)


def _line(picture: Any, tell: Teller) -> str:
    def ends(low: int, high: int) -> dict[str, str]:
        seen = [None if value in picture.hidden else value for value in (low, high)]
        return {"from": tell.number(seen[0]), "to": tell.number(seen[1])}

    parts = [tell.say("line", **ends(picture.start, picture.end))]
    if picture.step > 1:
        parts.append(tell.say("line: steps", picture.step))
    if picture.hidden:
        parts.append(tell.say("line: hidden", len(picture.hidden)))
    if picture.marked:
        marked = [None if value in picture.hidden else value for value in picture.marked]
        parts.append(tell.say("line: marked", listed=tell.listed(marked, "empty box")))
    parts += [tell.say("line: jump", **ends(*jump)) for jump in picture.jumps]
    return tell.sentence(parts)


def _plates(picture: Any, tell: Teller) -> str:
    count = len(picture.groups)
    if any(picture.groups):
        told = tell.say("plates", count, listed=tell.listed(list(picture.groups), "empty box"))
    else:
        told = tell.say("plates, empty", count)
    if picture.loose:
        told = tell.say("plates and loose counters", picture.loose, plates=told)
    return f"{told[0].upper()}{told[1:]}"


def _row(picture: Any, tell: Teller) -> str:
    words = [
        tell.say("empty box") if place in picture.hidden else tell.table.phrase(name)
        for place, name in enumerate(picture.items)
    ]
    return tell.say("row", listed=tell.table.listed(words))


def _numeral(picture: Any, tell: Teller) -> str:
    ways = (f"{digit}: {tell.table.phrase(WAYS[digit])}." for digit in str(picture.number))
    return tell.say("numeral", picture.number, ways=" ".join(ways))


TOLD: dict[type[Picture], Callable[[Any, Teller], str]] = {
    pictures.Array: lambda each, tell: tell.say("array", each.rows, each.columns),
    pictures.CompareSets: lambda each, tell: tell.say("two boxes", each.left, each.right),
    pictures.Counters: _crossed,
    pictures.DiceDots: lambda each, tell: tell.say("dots of a die", each.number),
    pictures.Fingers: _fingers,
    pictures.FiveAndDots: _five_and_dots,
    pictures.FiveFrame: lambda each, tell: tell.say("five frame", each.filled),
    pictures.House: lambda each, tell: tell.say("house", each.windows),
    pictures.HundredSquare: _square,
    pictures.LooseRows: lambda each, tell: tell.say(
        "loose rows: matched" if each.matched else "loose rows", each.upper, each.lower
    ),
    pictures.MovedRow: lambda each, tell: tell.say(
        "moved: spread out" if each.spread else "moved: pushed together", each.number
    ),
    pictures.NumberCards: lambda each, tell: tell.say(
        "cards", listed=tell.listed(list(each.numbers), "empty card")
    ),
    pictures.NumberLine: _line,
    pictures.NumeralTrace: _numeral,
    pictures.PartWhole: lambda each, tell: tell.say(
        "part and whole",
        whole=tell.number(each.whole),
        listed=tell.listed(list(each.parts), "empty box"),
    ),
    pictures.PatternRow: _row,
    pictures.Plates: _plates,
    pictures.ScatteredDots: lambda each, tell: tell.say("dots scattered", each.number),
    pictures.ShapeCut: _cut,
    pictures.ShapeCutChoice: _cuts,
    pictures.Tally: lambda each, tell: (
        tell.say("tally", each.number) if each.number else tell.say("tally of nothing")
    ),
    pictures.TenFrame: _ten_frame,
    pictures.Things: _things,
    pictures.TwoHands: lambda each, tell: tell.say(
        "fingers", each.left + each.right, each.left, each.right
    ),
    pictures.TwoLots: lambda each, tell: tell.say("two lots", each.first, each.second),
    pictures.TwoRows: lambda each, tell: tell.say("two rows", each.upper, each.lower),
}

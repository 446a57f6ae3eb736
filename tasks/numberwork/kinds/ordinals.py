"""Ordinal numbers: which is first, second, third in a row, and what comes before and after."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.patterns import THINGS_USED
from tasks.numberwork.pictures import PatternRow
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT

PLACES = ("first", "second", "third", "fourth", "fifth")
LONG = len(PLACES)
OTHER_END, EARLY, LATE = "counted from the other end", "one place too early", "one place too late"
FORMS = {
    WITH_SUPPORT: ("from the left",),
    CORE: ("from the left", "from the right"),
    CHALLENGE: ("just before", "just after"),
}


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every place in a row of five different things, each in a row of its own.

    Common practice, no source; ordinal words to fifth.
    """
    for turn, form in enumerate(FORMS[depth]):
        for place in range(3 if depth == WITH_SUPPORT else LONG):
            for start in (place - 1 + turn, place + 2 + turn)[: 2 if depth == WITH_SUPPORT else 1]:
                row = [THINGS_USED[(start + step) % len(THINGS_USED)] for step in range(LONG)]
                if 0 <= _asked(place, form) < LONG:
                    yield _ask(row, form, place)


def _asked(place: int, form: str) -> int:
    """Return which of the row, from the left and from 0, is asked for by a place from 0."""
    return {
        "from the left": place,
        "from the right": LONG - 1 - place,
        "just before": place - 1,
        "just after": place + 1,
    }[form]


def _ask(row: list[str], form: str, place: int) -> Ask:
    """Ask for one thing of *row*; wrong are its neighbours and what the other end gives."""
    at = _asked(place, form)
    slips = {OTHER_END: row[LONG - 1 - at]}
    slips |= {EARLY: row[at - 1]} if at > 0 else {}
    slips |= {LATE: row[at + 1]} if at + 1 < LONG else {}
    wrong = wrong_answers(dict(slips), row[at])
    fact = f"{'+'.join(row)}:{place + 1}"
    things = (row[at], PLACES[place])
    told_apart = tuple(each for each in row if each == row[at] or each in wrong.values())
    return Ask(form, fact, (), row[at], wrong, choices=told_apart, things=things)


def _picture(ask: Ask, depth: str, variant: int) -> PatternRow:
    """Draw the row."""
    row = tuple(ask.fact.split(":")[0].split("+"))
    return PatternRow(row, LONG)


ORDINALS = Kind(
    name="ordinals",
    title="Places in a row",
    practises="Saying which place a thing has in a row",
    ranges=(5,),
    example="which is third from the left? □",
    forms={
        "from the left": "Which is first, second, third from the left?",
        "from the right": "The same from the right",
        "just before": "Which is just before the third?",
        "just after": "Which is just after the third?",
    },
    mistakes={
        OTHER_END: "Counted from the other end",
        EARLY: "Said the thing one place too early",
        LATE: "Said the thing one place too late",
    },
    depths={
        "with support": "First to third, from the left",
        "core": "First to fifth, from the left and from the right",
        "challenge": "Just before and just after a place",
    },
    fetch=("a spoon, a cup, a sock and a book in a row", "shoes in a line", "a row of toys"),
    say="Where does the row begin? Point and say: first, second, third. Which is it?",
    right="The child begins at the end that was said and gives each thing one place.",
    seconds=35,
    asks=_asks,
    picture=_picture,
)

"""Story problems: the twelve situations of adding and taking away, told in the kitchen.

Source: Common Core State Standards, Mathematics, Table 1 (after NRC 2009, Box 2-4).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.kinds.mistakes import (
    FEW,
    FIRST,
    MANY,
    SECOND,
    sentences,
)
from tasks.numberwork.pictures import Counters, Picture, TwoLots
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT, Answer

ADDED, TOOK = "added", "took away"


@dataclass(frozen=True, slots=True)
class Situation:
    """One cell of Table 1, as told.

    cell is its row and column. given names the numbers the story tells, in that order, and asked
    the one it asks for: a and b are the parts, w the whole (in a comparison: a the smaller
    amount, b the difference, w the larger amount). Without asked, both parts are asked for.
    """

    cell: tuple[str, str]
    given: str
    asked: str


SITUATIONS: Mapping[str, Situation] = {
    "add to, result unknown": Situation(("add to", "result"), "ab", "w"),
    "add to, change unknown": Situation(("add to", "change"), "aw", "b"),
    "add to, start unknown": Situation(("add to", "start"), "bw", "a"),
    "take from, result unknown": Situation(("take from", "result"), "wb", "a"),
    "take from, change unknown": Situation(("take from", "change"), "wa", "b"),
    "take from, start unknown": Situation(("take from", "start"), "ba", "w"),
    "put together, total unknown": Situation(("put together", "total"), "ab", "w"),
    "put together, one part unknown": Situation(("put together", "addend"), "wa", "b"),
    "put together, both parts unknown": Situation(("put together", "both addends"), "w", ""),
    "compare, difference unknown, more": Situation(("compare", "difference"), "aw", "b"),
    "compare, difference unknown, fewer": Situation(("compare", "difference"), "aw", "b"),
    "compare, larger unknown, more": Situation(("compare", "bigger"), "ba", "w"),
    "compare, larger unknown, fewer": Situation(("compare", "bigger"), "ba", "w"),
    "compare, smaller unknown, more": Situation(("compare", "smaller"), "bw", "a"),
    "compare, smaller unknown, fewer": Situation(("compare", "smaller"), "bw", "a"),
}

# The four situations that Table 1 gives to kindergarten (the OA Progressions).
FIRST_FOUR = (
    "add to, result unknown",
    "take from, result unknown",
    "put together, total unknown",
    "put together, both parts unknown",
)
# Kitchen things and where they are: no food, so that no story makes anyone eat.
STOCK = (
    ("spoon", "in the drawer"),
    ("cup", "on the shelf"),
    ("plate", "on the rack"),
    ("bowl", "on the table"),
    ("lid", "in the cupboard"),
    ("peg", "in the basket"),
    ("fork", "in the drawer"),
    ("jar", "on the shelf"),
    ("cloth", "by the sink"),
    ("tin", "in the cupboard"),
    ("mug", "in the sink"),
    ("sponge", "by the sink"),
)


def _forms(depth: str) -> list[str]:
    """List the situations of a depth: pictured, the first four, and all the others."""
    if depth == CHALLENGE:
        return [form for form in SITUATIONS if form not in FIRST_FOUR]
    return list(FIRST_FOUR[:3] if depth == WITH_SUPPORT else FIRST_FOUR)


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List every story with parts from 1 that stay within range."""
    most = min(within, 10) if depth == WITH_SUPPORT else within
    for form in _forms(depth):
        for whole in range(2, most + 1):
            if SITUATIONS[form].asked:
                yield from (_story(form, part, whole - part) for part in range(1, whole))
            else:
                pairs = tuple((part, whole - part) for part in range(whole + 1))
                yield Ask(form, f"{form}:{whole}", (whole,), pairs[0], {}, answers=pairs)


def _story(form: str, first: int, second: int) -> Ask:
    """Tell one story with the parts *first* and *second*; mistakes use the numbers it gives."""
    told = {"a": first, "b": second, "w": first + second}
    one, other = (told[letter] for letter in SITUATIONS[form].given)
    right = told[SITUATIONS[form].asked]
    slips: dict[str, Answer | None] = {
        ADDED: one + other,
        TOOK: abs(one - other),
        FIRST: one,
        SECOND: other,
        FEW: right - 1,
        MANY: right + 1,
        **digit_mistakes(right),
    }
    fact = f"{form}:{first},{second}"
    return Ask(form, fact, (one, other), right, wrong_answers(slips, right))


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the amounts of the story with support: what is joined, not what is compared."""
    if depth != WITH_SUPPORT:
        return None
    one, other = ask.numbers
    return Counters(one, other) if ask.form.startswith("take from") else TwoLots(one, other)


def _things(ask: Ask, variant: int) -> tuple[str, ...]:
    """Return what the story is about and where it is."""
    return STOCK[variant]


STORY_PROBLEMS = Kind(
    name="story-problems",
    title="Story problems",
    practises="Hearing a short story with numbers and finding out what it asks",
    ranges=(5, 10, 20),
    example=(
        "There are 2 spoons in the drawer. You put 3 more there. How many spoons are there now? □"
    ),
    forms={form: f"{' '.join(situation.cell)} unknown" for form, situation in SITUATIONS.items()},
    mistakes={
        ADDED: "Added the two numbers of the story",
        TOOK: "Took one number of the story from the other",
        **sentences(FIRST, SECOND, FEW, MANY),
        **DIGITS,
    },
    depths={
        "with support": "Joining and taking away to ten, drawn",
        "core": "The four usual situations, one of them with several right answers; no picture",
        "challenge": "What changed, what was there before, and how many more or fewer",
    },
    fetch=("the things in the story", "fingers", "pegs that stand for the things"),
    say="Tell me the story in your own words. What do we want to know? Can you show it?",
    right="The child acts the story out or draws it, and answers the question that was asked.",
    seconds=60,
    asks=_asks,
    picture=_picture,
    things=_things,
    variants=len(STOCK),
)

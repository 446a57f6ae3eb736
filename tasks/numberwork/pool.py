"""Every question a kind can ask in a range, and which mistakes each one tells apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import TypeVar

from tasks.numberwork.kind import Ask, Kind
from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.kinds.mistakes import FEW, MANY
from tasks.numberwork.prompt import Answer, Prompt

Value = TypeVar("Value", int, str)
NONE = "none"  # the child who makes no such mistake
STEPS = {FEW: -1, MANY: 1}  # a plain miscount, which is a rival of every mistake


@dataclass(frozen=True, slots=True)
class Pool:
    """All questions of one kind, range and depth, in a fixed order.

    keys and facts name them as `Prompt.key` does; masks has a bit for each pair of
    `hypotheses` which the question tells apart. by_fact and groups list the places of the
    questions about each fact, and of those with equal masks.
    """

    kind: Kind
    asks: tuple[Ask, ...]
    keys: tuple[str, ...]
    facts: tuple[str, ...]
    masks: tuple[int, ...]
    by_fact: Mapping[str, tuple[int, ...]]
    groups: Mapping[int, tuple[int, ...]]


def hypotheses(kind: Kind, asks: Sequence[Ask]) -> tuple[str, ...]:
    """List what may lie behind a child's answers: no mistake, one of the kind's, a miscount.

    A miscount only where some of *asks* are answered by a number.
    """
    counted = STEPS if any(number_of(ask) is not None for ask in asks) else ()
    return tuple(dict.fromkeys((NONE, *kind.mistakes, *counted)))


@lru_cache(maxsize=512)
def pool_of(kind_name: str, within: int, depth: str) -> Pool:
    """List every question of a kind for a range and depth; known names only."""
    kind = EVERY_KIND[kind_name]
    asks = tuple(kind.asks(within, depth))
    facts = tuple(f"{kind.name}/{ask.fact}" for ask in asks)
    keys = tuple(f"{fact}/{ask.form}" for fact, ask in zip(facts, asks, strict=True))
    names = hypotheses(kind, asks)
    masks = tuple(told_apart(predictions(names, ask.answer, with_miscounts(ask))) for ask in asks)
    return Pool(kind, asks, keys, facts, masks, _places(facts), _places(masks))


def _places(values: Sequence[Value]) -> dict[Value, tuple[int, ...]]:
    """List the places of each value."""
    places: dict[Value, list[int]] = {}
    for place, value in enumerate(values):
        places.setdefault(value, []).append(place)
    return {value: tuple(found) for value, found in places.items()}


def with_miscounts(ask: Ask) -> Mapping[str, Answer]:
    """Return the wrong answers of each mistake, and of a plain miscount: none goes below 0."""
    number = number_of(ask)
    if number is None:
        return ask.mistakes
    counted = {name: number + by for name, by in STEPS.items() if number + by >= 0}
    return {**counted, **ask.mistakes}


def number_of(asked: Ask | Prompt) -> int | None:
    """Return the right answer where it is one whole number, counted or worked out."""
    if not isinstance(asked.answer, int) or len(asked.answers) > 1 or offered(asked):
        return None
    return asked.answer


def offered(asked: Ask | Prompt) -> tuple[Answer, ...]:
    """Return the answers there are to choose from: choices, or numbers to pick one of."""
    if asked.choices:
        return asked.choices
    shown = set(asked.numbers)
    picks = len(shown) > 1 and {asked.answer, *asked.mistakes.values()} <= shown
    return asked.numbers if picks else ()


def predictions(
    names: Sequence[str], right: Answer, mistakes: Mapping[str, Answer]
) -> tuple[Answer, ...]:
    """Return what a child with each hypothesis answers: the right answer where it cannot show."""
    return tuple(mistakes.get(name, right) for name in names)


def told_apart(predicted: Sequence[Answer]) -> int:
    """Set a bit for each pair of predictions that differ, pairs in `combinations` order."""
    return _mask(tuple(predicted.index(answer) for answer in predicted))


@lru_cache(maxsize=4096)
def _mask(first_alike: tuple[int, ...]) -> int:
    """Set a bit for each pair of hypotheses that fall into different groups."""
    pairs = combinations(first_alike, 2)
    return sum(1 << place for place, (one, other) in enumerate(pairs) if one != other)

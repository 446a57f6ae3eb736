"""Drawing the parts of many days together: practice for the main task, recall of what it asked.

Parts are slots in a row of days, and who reads them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from tasks.numberwork.chance import Chance
from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import DEPTHS, Prompt
from tasks.numberwork.sequences.only import Only, size
from tasks.numberwork.sequences.practice import Before, Choice, dress_of, practise

CLASS = 0  # the reader who is in no group
WINDOW = 5  # school days within which the same dress comes again only for want of others
MAIN, RECALL = "main_task", "quick_recall"
ORDER = (MAIN, RECALL)  # what is drawn first, in each day's order; all other parts after these
Facts = Mapping[str, Collection[str]]  # kind → facts of it, as in `Ask.fact`


@dataclass(frozen=True, slots=True)
class Slot:
    """One part on one day.

    day: its place among the days that are drawn together. readers: the groups (primary keys)
    that get it, and CLASS for children who are in none. kept: the dresses of its prompts where they
    stay; without any it is drawn. before: dresses it had, to be avoided if that can be.
    """

    day: int
    choice: Choice
    readers: frozenset[int] = frozenset((CLASS,))
    part: str = MAIN
    kept: tuple[str, ...] = ()
    before: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawn:
    """A set of prompts and the seed it was drawn from."""

    seed: int
    prompts: tuple[Prompt, ...]


def fill(
    slots: Sequence[Slot], seed: int, lately: Collection[str] = (), met: Facts | None = None
) -> list[Drawn | None]:
    """Draw every slot that is not kept, in the order given; None stands for those kept.

    A slot has all the prompts it wants. Main tasks bring facts of the days before back in another
    dress. Quick recall asks only facts that a main task asked its readers on a day before, or that
    are in *met*, those asked longest ago first. Nobody is asked a prompt twice on a day while
    there is another, nor in the same dress within WINDOW days; *lately*: dresses asked before
    these days, avoided likewise. Equal arguments give equal prompts.
    """
    asked = Asked(met or {})
    for slot in slots:
        asked.note(slot, slot.kept)
    drawn: list[Drawn | None] = [None] * len(slots)
    for place in sorted(range(len(slots)), key=lambda place: (_turn(slots[place]), place)):
        slot = slots[place]
        if not slot.kept:
            seeded = Chance("filling", seed, place).below(2**31)
            found = draw_slot(slot, seeded, asked, lately)
            asked.note(slot, map(dress_of, found.prompts))
            drawn[place] = found
    return drawn


def _turn(slot: Slot) -> tuple[int, int, bool]:
    """Return when a slot is drawn: the class before its groups, day after day."""
    order = ORDER.index(slot.part) if slot.part in ORDER else len(ORDER)
    return order, slot.day, CLASS not in slot.readers


def draw_slot(slot: Slot, seed: int, asked: Asked, lately: Collection[str]) -> Drawn:
    """Draw one slot beside what was asked already."""
    today, near = asked.around(slot)
    far_first = list(dict.fromkeys((*lately, *slot.before)))
    dresses = [*(dress for dress in far_first if dress not in set(near)), *near]
    choice, back, again = slot.choice, asked.back(slot), asked.again(slot)
    if slot.part == RECALL:
        choice = _of_what_was_met(slot, asked)
    for keys in (today, set[str]()):
        try:
            return Drawn(seed, practise(choice, seed, Before(keys, dresses, back, again)))
        except ValueError as error:
            nothing_left = error
    raise nothing_left


def _of_what_was_met(slot: Slot, asked: Asked) -> Choice:
    """Narrow a recall to facts that were met, longest ago first, none of them of that day's main.

    A kind of which no fact is known to be met (a teacher says the class knows it) is asked in the
    smaller half of its numbers.
    """
    choice = slot.choice
    pools = (pool_of(choice.kind, choice.within, depth) for depth in DEPTHS)
    there = {ask.fact for pool in pools for ask in pool.asks}
    facts = tuple(fact for fact in asked.facts_before(slot) if fact in there)
    if choice.only.facts or choice.number is not None:
        return choice
    if facts:
        return replace(choice, only=replace(choice.only, facts=facts[: 2 * choice.count]))
    sizes = sorted(map(size, pool_of(choice.kind, choice.within, choice.depth).asks))
    return replace(choice, only=Only(most=sizes[len(sizes) // 2]))


def repeats(slots: Sequence[Slot]) -> list[int]:
    """Return the places of kept slots with a prompt that the same reader has again within WINDOW
    days in the same dress, or on the same day in any."""
    asked = Asked({})
    for slot in slots:
        asked.note(slot, slot.kept)
    found = []
    for place, slot in enumerate(slots):
        today, near = asked.around(slot)
        if {_key(dress) for dress in slot.kept} & today or set(slot.kept) & set(near):
            found.append(place)
    return found


class Asked:
    """Which prompts are asked when, and of whom; met: facts that were asked before all of it."""

    def __init__(self, met: Facts) -> None:
        self._met = met
        self._by_kind: dict[str, list[tuple[Slot, tuple[str, ...]]]] = {}

    def note(self, slot: Slot, dresses: Iterable[str]) -> None:
        """Remember the prompts of a slot."""
        if found := tuple(dresses):
            self._by_kind.setdefault(slot.choice.kind, []).append((slot, found))

    def _others(self, slot: Slot) -> list[tuple[Slot, tuple[str, ...]]]:
        """Return the other slots of its kind that a reader of *slot* is asked as well."""
        every = self._by_kind.get(slot.choice.kind, ())
        return [
            (other, dresses)
            for other, dresses in every
            if other is not slot and other.readers & slot.readers
        ]

    def around(self, slot: Slot) -> tuple[set[str], list[str]]:
        """Return the keys asked of the readers of *slot* that day, and the dresses within WINDOW.

        Dresses furthest off come first. Of what is about one number all dresses count: another
        number each day as long as there is one.
        """
        today: set[str] = set()
        nearest: dict[str, int] = {}
        for other, dresses in self._others(slot):
            days = abs(other.day - slot.day)
            if days == 0:
                today.update(map(_key, dresses))
            for dress in dresses:
                nearest[dress] = min(days, nearest.get(dress, days))
        far_first = sorted(nearest, key=lambda dress: -nearest[dress])
        is_about_one = EVERY_KIND[slot.choice.kind].one_number
        return today, [each for each in far_first if is_about_one or nearest[each] < WINDOW]

    def back(self, slot: Slot) -> list[str]:
        """Return the facts, as "kind/fact", that a main task brings back: those of the days before.

        A group's version is about what the class is asked that day, if it can be.
        """
        if slot.part != MAIN:
            return []
        if CLASS not in slot.readers and (own := self._of_class(slot)):
            return own
        days = range(slot.day - WINDOW + 1, slot.day)
        near = (
            dresses
            for other, dresses in self._others(slot)
            if other.part == MAIN and other.day in days
        )
        return [_fact(dress) for dresses in near for dress in dresses]

    def again(self, slot: Slot) -> list[str]:
        """Return the dresses that a main task may bring back as they are: none of yesterday's."""
        days = range(slot.day - WINDOW + 1, slot.day - 1)
        near = (
            dresses
            for other, dresses in self._others(slot)
            if slot.part == MAIN == other.part and other.day in days
        )
        return [dress for dresses in near for dress in dresses]

    def _of_class(self, slot: Slot) -> list[str]:
        """Return the facts of the class's own main task on the day of a group's version."""
        return [
            _fact(dress)
            for other, dresses in self._by_kind.get(slot.choice.kind, ())
            if other.part == MAIN and other.day == slot.day and CLASS in other.readers
            for dress in dresses
        ]

    def facts_before(self, slot: Slot) -> tuple[str, ...]:
        """Return the facts of its kind that a main task asked before *slot*, longest ago first.

        Those that all its readers were asked, if there are any; none of that day's main task while
        there are others.
        """
        kind = slot.choice.kind
        last = dict.fromkeys(self._met.get(kind, ()), -WINDOW)
        by_reader: dict[int, set[str]] = {reader: set() for reader in slot.readers}
        today: set[str] = set()
        for other, dresses in self._others(slot):
            facts = {_fact(dress).partition("/")[2] for dress in dresses}
            if other.part == MAIN and other.day < slot.day:
                for reader in other.readers & slot.readers:
                    by_reader[reader] |= facts
            if other.part == MAIN and other.day == slot.day:
                today |= facts
            if other.part in ORDER and other.day < slot.day:
                last |= {fact: max(other.day, last.get(fact, other.day)) for fact in facts}
        known = set(self._met.get(kind, ()))
        of_all = set.intersection(*by_reader.values()) if by_reader else set()
        may = known | (of_all or by_reader.get(CLASS, set()))
        may = may - today if len(may - today) >= slot.choice.count else may
        return tuple(sorted(may, key=lambda fact: (fact in today, last[fact], fact)))


def _key(dress: str) -> str:
    """Return the key of the prompt that a dress is of."""
    return dress.rpartition("@")[0]


def _fact(dress: str) -> str:
    """Return the fact of a dress, as "kind/fact"."""
    return _key(dress).rpartition("/")[0]

"""An invented class that turns to another focus every fortnight, and what its groups are for.

Each of thirty children sends seven days in ten. Two in five find a focus hard when it is met;
what was tagged then stays in the book when the class has moved on. Each child has one mistake of
a kind of its own choosing, which shows four times in five and stays. Shares: assumed, no source.
"""

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from assessment.insight.rows import Child, Help, How, Mistake, Shown, Worked

FOCUSES: Mapping[str, tuple[str, ...]] = {
    "counting": ("counting-on-in-ones", "missing-number"),
    "bonds": ("number-bonds", "missing-part"),
    "comparing": ("comparing", "ordering"),
    "doubles": ("doubling", "doubles-on-fingers"),
    "halves": ("halving", "sharing-equally"),
    "patterns": ("repeating-patterns", "odd-or-even"),
}
CHILDREN = tuple(range(30))
MONDAY = date(2026, 9, 7)
FORTNIGHT, SCHOOL_WEEK = timedelta(weeks=2), 5
SENDS, HARD, SHOWS = 0.7, 0.4, 0.8
NAMES = ("one way", "another way", "a third way")


@dataclass
class Book:
    """What is known on a Friday: the tags, the answers, and the goals the work was about."""

    friday: date
    shown: list[Shown] = field(default_factory=list)
    worked: list[Worked] = field(default_factory=list)
    goals_now: tuple[str, ...] = ()


def term(seed: int) -> Iterator[Book]:
    """Live through twelve weeks; yield the book on each Friday. Equal seeds, equal terms."""
    chance = random.Random(seed)
    own = {child: _own_mistake(chance) for child in CHILDREN}
    hard = {(child, goal): chance.random() < HARD for child in CHILDREN for goal in FOCUSES}
    book = Book(MONDAY)
    for week in range(2 * len(FOCUSES)):
        goal = list(FOCUSES)[week // 2]
        for number in range(SCHOOL_WEEK):
            day = MONDAY + timedelta(weeks=week, days=number)
            kind = FOCUSES[goal][number % 2]
            for child in CHILDREN:
                if chance.random() < SENDS:
                    how = How.NOT_YET if hard[child, goal] else How.INDEPENDENTLY
                    book.shown.append(Shown(child, goal, how, day, kind, Help.ALONE))
                    book.worked.append(_worked(chance, child, day, kind, own[child]))
            book.friday = day
        begun = week // 2 if week % 2 else max(0, week // 2 - 1)
        book.goals_now = tuple(list(FOCUSES)[begun : week // 2 + 1])
        yield book


def _own_mistake(chance: random.Random) -> Mistake:
    kinds = [kind for kinds in FOCUSES.values() for kind in kinds]
    return Mistake(chance.choice(kinds), chance.choice(NAMES))


def _worked(chance: random.Random, child: Child, day: date, kind: str, own: Mistake) -> Worked:
    made = own.kind == kind and chance.random() < SHOWS
    return Worked(child, day, kind, frozenset(NAMES), frozenset({own.name} if made else ()))


@dataclass
class Tally:
    """Of children placed for something hard: how many there are, and what of it holds."""

    placed: int = 0
    about_now: int = 0
    stayed: int = 0
    stayed_named: int = 0
    first: int = 0
    first_named: int = 0

    def shares(self) -> tuple[float, float, float]:
        """Return the shares about the weeks' work, of mistakes named, of first needs named."""
        return (
            self.about_now / self.placed,
            self.stayed_named / self.stayed,
            self.first_named / self.first,
        )


# For a book: by each child the needs in order, and those its group names for it.
Grouping = Callable[[Book], tuple[Mapping[Child, Sequence], Mapping[Child, Sequence]]]


def tally(seeds: Sequence[int], grouping: Grouping) -> Tally:
    """Group every Friday from the third on, and count."""
    found = Tally()
    for seed in seeds:
        for week, book in enumerate(term(seed)):
            if week < 2:
                continue
            wanted, named = grouping(book)
            for child in CHILDREN:
                _count(found, book, wanted.get(child, ()), named.get(child, ()))
    return found


def _count(found: Tally, book: Book, wanted: Sequence, named: Sequence) -> None:
    hard = [need for need in named if need.reason in ("mistake", "goal")]
    if hard:
        found.placed += 1
        found.about_now += all(
            need.name in book.goals_now if need.reason == "goal" else True for need in hard
        )
    stayed = [need for need in wanted if need.reason == "mistake"]
    if stayed:
        found.stayed += 1
        found.stayed_named += stayed[0] in named
    if wanted:
        found.first += 1
        found.first_named += wanted[0] in named

"""Drawing the prompts of many parts together, so that no child is asked one twice within days.

Knows no database and no clock: parts are slots in a row of days, and who reads them.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from tasks.numberwork import KINDS, how_many, make_prompts
from tasks.numberwork.chance import Chance
from tasks.numberwork.pool import pool_of
from tasks.numberwork.sequences.drafting import WINDOW
from tasks.plans.prompt_selection import Choice, Drawn

CLASS = 0  # the reader who is in no group


@dataclass(frozen=True, slots=True)
class Slot:
    """One part on one day.

    day: its place among the days that are drawn together. readers: the groups (primary keys)
    that get it, and CLASS for children who are in none. kept: the keys of its prompts where they
    stay; without any it is drawn. before: keys it had, to be avoided if that can be.
    """

    day: int
    choice: Choice
    readers: frozenset[int] = frozenset((CLASS,))
    kept: tuple[str, ...] = ()
    before: tuple[str, ...] = ()


def fill(slots: Sequence[Slot], seed: int, lately: Collection[str] = ()) -> list[Drawn | None]:
    """Draw every slot that is not kept, in the order given; None stands for those kept.

    No prompt comes to the same reader twice within WINDOW days, before or after: where there are
    too few, slots share them out and have fewer, at least one each. Only where not even one is
    left does a prompt come again. Prompts in *lately* or asked further off are avoided while
    there are others. Equal arguments give equal prompts.
    """
    asked = Asked()
    for slot in slots:
        asked.note(slot, slot.kept)
    drawn: list[Drawn | None] = [None] * len(slots)
    # What has least to choose from chooses first, so that the others leave it something.
    order = sorted(range(len(slots)), key=lambda place: (left(slots[place].choice, ()), place))
    still = [slots[place] for place in order if not slots[place].kept]
    for place in order:
        slot = slots[place]
        if not slot.kept:
            still = still[1:]
            seeded = Chance("filling", seed, place).below(2**31)
            found = draw_slot(slot, seeded, asked, still, lately)
            asked.note(slot, [prompt.key for prompt in found.prompts])
            drawn[place] = found
    return drawn


def draw_slot(
    slot: Slot, seed: int, asked: "Asked", still: Iterable[Slot], lately: Collection[str]
) -> Drawn:
    """Draw one slot beside what was asked already; *still* lists those to be drawn after it."""
    near, far = asked.around(slot)
    choice = slot.choice
    wanted = fair_share(slot, still, left(choice, near))
    # The first are given up first: what was asked longest off, then lately, then just before.
    avoid = [key for key in (*far, *lately, *slot.before) if key not in set(near)]
    avoid = [*dict.fromkeys(avoid), *near]
    while (there := left(choice, avoid)) < (wanted if len(avoid) > len(near) else 1) and avoid:
        avoid = avoid[1:]
    count = min(wanted, there)
    prompts = make_prompts(
        choice.kind, choice.within, count, seed, avoid, choice.depth, choice.number
    )
    return Drawn(seed, prompts)


def fair_share(slot: Slot, still: Iterable[Slot], there: int) -> int:
    """Return how many of the prompts that are there a slot takes, leaving others theirs.

    Those are the slots of the same kind within WINDOW days that its readers are asked as well,
    counted by how much of what they can ask is what this slot can ask. A set about one number
    leaves other numbers, so it takes what it wants.
    """
    choice = slot.choice
    if KINDS[choice.kind].one_number:
        return choice.count
    later = sum(
        other.choice.count * overlap(choice, other.choice)
        for other in still
        if other.choice.kind == choice.kind
        and abs(other.day - slot.day) < WINDOW
        and slot.readers <= other.readers
    )
    return min(choice.count, max(1, int(there * choice.count / (choice.count + later))))


def overlap(one: Choice, other: Choice) -> float:
    """Return the share of what *other* can ask that *one* of the same kind can ask too, 0 to 1."""
    if (one.within, one.depth) == (other.within, other.depth):
        return 1.0
    return _overlap(one.kind, one.within, one.depth, other.within, other.depth)


@lru_cache(maxsize=1024)
def _overlap(kind: str, within: int, depth: str, other_within: int, other_depth: str) -> float:
    keys = set(pool_of(kind, within, depth).keys)
    others = pool_of(kind, other_within, other_depth).keys
    return sum(key in keys for key in others) / len(others)


def left(choice: Choice, avoid: Iterable[str]) -> int:
    """Count the prompts there are for *choice* besides those to avoid."""
    return how_many(choice.kind, choice.within, choice.depth, avoid, choice.number)


def repeats(slots: Sequence[Slot]) -> list[int]:
    """Return the places of kept slots with a prompt that another has within WINDOW days, for the
    same reader."""
    asked = Asked()
    for slot in slots:
        asked.note(slot, slot.kept)
    return [
        place for place, slot in enumerate(slots) if set(slot.kept) & set(asked.around(slot)[0])
    ]


class Asked:
    """Which prompts are asked when, and of whom."""

    def __init__(self) -> None:
        self._by_kind: dict[str, list[tuple[Slot, tuple[str, ...]]]] = {}

    def note(self, slot: Slot, keys: Iterable[str]) -> None:
        """Remember the prompts of a slot."""
        if found := tuple(keys):
            self._by_kind.setdefault(slot.choice.kind, []).append((slot, found))

    def around(self, slot: Slot) -> tuple[list[str], list[str]]:
        """Return the keys asked of the readers of *slot* in other slots, those furthest off first.

        The first list is of those within WINDOW days.
        """
        nearest: dict[str, int] = {}
        for other, keys in self._by_kind.get(slot.choice.kind, ()):
            if other is slot or not other.readers & slot.readers:
                continue
            days = abs(other.day - slot.day)
            for key in keys:
                nearest[key] = min(days, nearest.get(key, days))
        far_first = sorted(nearest, key=lambda key: -nearest[key])
        near = [key for key in far_first if nearest[key] < WINDOW]
        return near, [key for key in far_first if nearest[key] >= WINDOW]

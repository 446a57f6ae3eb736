"""Which prompts each part of a drafted day asks, so that none comes again too soon."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tasks.numberwork.chance import Chance
from tasks.numberwork.kinds import KINDS
from tasks.numberwork.making import how_many, make_prompts
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import Prompt

WINDOW = 5  # school days within which no prompt comes twice, as far as the range has enough


@dataclass(frozen=True, slots=True)
class Use:
    """What a part of a day is to be about, and how many prompts are wanted."""

    day: int
    part: str
    kind: str
    within: int
    depth: str
    wanted: int


@dataclass(frozen=True, slots=True)
class PartDraft:
    """One part of a day: which prompts to make, and what to use at home.

    avoid: keys of prompts of this kind from the days before. idea: one of the kind's
    alternatives from the kitchen, another one each time.
    """

    kind: str
    within: int
    count: int
    seed: int
    depth: str
    avoid: tuple[str, ...] = ()
    idea: str = ""

    def prompts(self) -> tuple[Prompt, ...]:
        """Make the prompts of the part."""
        return make_prompts(self.kind, self.within, self.count, self.seed, self.avoid, self.depth)


class Drafting:
    """The parts drafted so far and those still to come."""

    def __init__(self, seed: int, uses: Sequence[Use]) -> None:
        self._seed = seed
        self._uses = uses
        self._met: dict[str, list[tuple[int, str]]] = {}
        self._ideas: dict[str, int] = {}

    def parts(self, day: int) -> dict[str, PartDraft]:
        """Draft the parts of one day by name; days in order, each once."""
        return {
            use.part: self._draft(place, use)
            for place, use in enumerate(self._uses)
            if use.day == day
        }

    def _draft(self, place: int, use: Use) -> PartDraft:
        """Draft one part and remember its prompts."""
        avoid, there = self._avoid(use)
        count = self._share(place, use, avoid, there)
        seed = Chance("sequence", self._seed, use.day, use.part, use.kind).below(2**31)
        turn = self._ideas.get(use.kind, 0)
        self._ideas[use.kind] = turn + (use.part == "try_at_home")
        fetch = KINDS[use.kind].fetch
        idea = fetch[turn % len(fetch)]
        part = PartDraft(use.kind, use.within, count, seed, use.depth, avoid, idea)
        met = self._met.setdefault(use.kind, [])
        met += [(use.day, prompt.key) for prompt in part.prompts()]
        return part

    def _avoid(self, use: Use) -> tuple[tuple[str, ...], int]:
        """Return the keys to avoid, and how many prompts a set can have besides them.

        What was asked longest ago comes back first, and within WINDOW days only where nothing
        else is left.
        """
        last_met = {key: day for day, key in self._met.get(use.kind, [])}
        avoid = sorted(last_met, key=lambda key: last_met[key])
        there = how_many(use.kind, use.within, use.depth, avoid)
        while avoid:
            wanted = use.wanted if use.day - last_met[avoid[0]] >= WINDOW else 1
            if there >= wanted:
                break
            avoid = avoid[1:]
            there = how_many(use.kind, use.within, use.depth, avoid)
        return tuple(avoid), there

    def _share(self, place: int, use: Use, avoid: Sequence[str], there: int) -> int:
        """Give how many prompts a part takes, leaving some for the same kind on the next days."""
        if KINDS[use.kind].one_number:
            return min(use.wanted, there)
        later = [
            other
            for other in self._uses[place + 1 :]
            if (other.kind, other.within) == (use.kind, use.within) and other.day < use.day + WINDOW
        ]
        same_depth = [other for other in later if other.depth == use.depth]
        depths = {use.depth, *(other.depth for other in later)}
        keys = {key for depth in depths for key in pool_of(use.kind, use.within, depth).keys}
        fair = min(_fair(len(keys.difference(avoid)), use, later), _fair(there, use, same_depth))
        return min(use.wanted, there, max(1, fair))


def _fair(there: int, use: Use, later: Sequence[Use]) -> int:
    """Share out what is there between this use and later ones, by what each wants."""
    return there * use.wanted // (use.wanted + sum(other.wanted for other in later))

"""Which goals a piece of work may show, judged from the kinds of work in it."""

from collections.abc import Iterable, Sequence
from typing import Protocol, TypeVar


class HasKinds(Protocol):
    """A goal, of a file or stored, that names the kinds which show it, the most direct first."""

    @property
    def kinds(self) -> Sequence[str]:
        """Return the names of the kinds."""


G = TypeVar("G", bound=HasKinds)


def goals_for_kinds(goals: Iterable[G], kinds: Iterable[str]) -> tuple[G, ...]:
    """Give those of *goals* that work of these *kinds* gives evidence of, the most relevant first.

    A kind that stands first in a goal's list counts 1, second 1/2, third 1/3; a goal's
    counts are added, and equal sums keep the order of *goals*. Common practice, no source.
    """
    asked = set(kinds)
    weighed = [(_relevance(goal.kinds, asked), goal) for goal in goals]
    found = [pair for pair in weighed if pair[0]]
    return tuple(goal for _, goal in sorted(found, key=lambda pair: -pair[0]))


def _relevance(named: Sequence[str], asked: set[str]) -> float:
    return sum(1 / place for place, kind in enumerate(named, start=1) if kind in asked)

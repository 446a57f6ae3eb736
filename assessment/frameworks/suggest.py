"""Which goals a piece of work may show, judged from the kinds of work in it."""

from collections.abc import Iterable

from .framework import Framework, Goal


def goals_for_kinds(framework: Framework, kinds: Iterable[str]) -> tuple[Goal, ...]:
    """Give the goals that work of these *kinds* gives evidence of, the most relevant first.

    A kind that stands first in a goal's list counts 1, second 1/2, third 1/3; a goal's
    counts are added, and equal sums keep the framework's order. Common practice, no source.
    """
    asked = set(kinds)
    weighed = [(_relevance(goal, asked), goal) for goal in framework.goals]
    found = [pair for pair in weighed if pair[0]]
    return tuple(goal for _, goal in sorted(found, key=lambda pair: -pair[0]))


def _relevance(goal: Goal, asked: set[str]) -> float:
    return sum(1 / place for place, kind in enumerate(goal.kinds, start=1) if kind in asked)

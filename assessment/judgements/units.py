"""What a judgement is about, and which words it may take: as the framework says."""

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext_lazy as _

from assessment.models import Framework, Goal

NOT_ASSESSED = "not assessed"
BY_STRAND = "strand"


@dataclass(frozen=True)
class Unit:
    """A strand or a goal to judge. `goals` are the statements that stand beside the judgement."""

    key: str
    title: str
    goals: tuple[Goal, ...]


def units_of(framework: Framework) -> list[Unit]:
    """Return what is judged under *framework*, in its order.

    A strand is judged as a whole: best fit over all its statements (common practice in England).
    """
    goals = list(framework.goals.in_use())
    if framework.judged_by != BY_STRAND:
        return [Unit(goal.code, goal.label, (goal,)) for goal in goals]
    strands: dict[str, list[Goal]] = {}
    for goal in goals:
        strands.setdefault(goal.strand, []).append(goal)
    return [Unit(title, title, tuple(held)) for title, held in strands.items()]


def level_choices(framework: Framework) -> list[tuple[str, Any]]:
    """Return the words a judgement may take, and that there is none; empty where none are set.

    Every child may also be "not assessed": one who came lately, or was away for long.
    """
    if not framework.levels:
        return []
    levels = [(level, level) for level in framework.levels]
    return [*levels, (NOT_ASSESSED, _("not assessed"))]

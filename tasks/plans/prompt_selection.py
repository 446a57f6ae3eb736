"""Drawing the prompts of a part, so that nothing that is there is repeated."""

import datetime as dt
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Self

from django.db.models import Q

from portal.people.models import SchoolClass
from tasks.models import Task, TaskPrompt
from tasks.numberwork import EVERY_KIND, Prompt, kind_kept
from tasks.numberwork.sequences import practice as drawing
from tasks.numberwork.sequences.filling import Drawn
from tasks.numberwork.sequences.only import Only

LOOK_BACK = dt.timedelta(days=7)
Part = Task.Part


class CannotDrawError(Exception):
    """There are not enough prompts of this kind that are not there already."""


@dataclass(frozen=True, slots=True)
class Choice(drawing.Choice):
    """What to draw for a part."""

    @classmethod
    def of(cls, task: Task) -> Self:
        """Return what *task* was drawn as; one prompt where all it has are the teacher's own."""
        only, count = Only.read(task.only), max(1, task.count)
        return cls(task.kind, task.within, count, task.depth, task.number, only)


def at_depth(choice: Choice, depth: str) -> Choice:
    """Return *choice* at another depth, about the same numbers, in the ways that depth has."""
    if depth == choice.depth:
        return choice
    return replace(choice, depth=depth, only=replace(choice.only, forms=()))


def asked_beside(task: Task) -> set[str]:
    """Return the keys of all prompts that who gets *task* is asked that day, its own included.

    What a group's version replaces is not among them.
    """
    own = Q(task__group=task.group_id)
    beside = Q(task__group=None) & ~Q(task__part=task.part)
    rows = TaskPrompt.objects.filter(own | beside, task__day_plan=task.day_plan_id)
    return {row.key for row in rows}


def asked_before(task: Task) -> drawing.Before:
    """Return what was asked before *task* is drawn: what it asked until now comes last again.

    Of the week before: what the class was set of its kind; of a main task, facts that come back,
    and of a group's the facts that the class is asked that day.
    """
    day = task.day_plan.date
    rows = TaskPrompt.objects.filter(
        task__day_plan__school_class=task.day_plan.school_class_id,
        task__day_plan__date__range=(day - LOOK_BACK, day - dt.timedelta(days=1)),
        task__kind=task.kind,
    ).order_by("task__day_plan__date", "task", "position")
    set_lately = list(rows.select_related("task"))
    own = list(task.prompts.all()) if task.pk else []
    mains = [row for row in set_lately if row.task.part == task.part == Part.MAIN_TASK]
    return drawing.Before(
        asked_beside(task) - {row.key for row in own},
        [row.dress for row in (*set_lately, *own)],
        _facts_of_class(task) or [row.fact for row in mains],
    )


def _facts_of_class(task: Task) -> list[str]:
    """Return the facts that the class is asked in the part of which *task* is a group's version."""
    if task.group_id is None:
        return []
    own = TaskPrompt.objects.filter(
        task__day_plan=task.day_plan_id, task__part=task.part, task__group=None
    )
    return [row.fact for row in own if row.kept("kind") == task.kind]


def facts_met(school_class: SchoolClass, before: dt.date) -> dict[str, list[str]]:
    """Return the facts that main tasks of a class asked before a day, by kind; one query."""
    rows = TaskPrompt.objects.filter(
        task__day_plan__school_class=school_class,
        task__day_plan__goes_out_at__isnull=False,
        task__day_plan__date__lt=before,
        task__part=Part.MAIN_TASK,
        task__group=None,
        task__kind__in=EVERY_KIND,
    ).order_by("task__day_plan__date", "task", "position")
    found: dict[str, dict[str, None]] = {}
    for row in rows.only("data"):
        found.setdefault(row.kept("kind"), {})[row.kept("fact")] = None
    return {kind: list(facts) for kind, facts in found.items()}


def with_own(own: Iterable[TaskPrompt], drawn: Iterable[Prompt]) -> list[Prompt]:
    """Put a teacher's *own* prompts among those *drawn*, each back in its place."""
    prompts = list(drawn)
    for row in own:
        prompts.insert(row.position, row.prompt)
    return prompts


def own_of(task: Task) -> list[TaskPrompt]:
    """Return the prompts of *task* that its teacher wrote herself, in order."""
    return [row for row in task.prompts.all() if row.is_own] if task.pk else []


def new_seed() -> int:
    """Return a seed that nobody can guess."""
    return secrets.randbelow(2**31)


def draw(choice: drawing.Choice, before: drawing.Before) -> Drawn:
    """Draw the prompts of a part, all of them. Raises CannotDrawError."""
    seed = new_seed()
    try:
        prompts = drawing.practise(choice, seed, before)
    except ValueError as too_few:
        raise CannotDrawError from too_few
    if len(prompts) < choice.count:
        raise CannotDrawError
    return Drawn(seed, prompts)


def draw_for(task: Task) -> Drawn:
    """Draw the prompts of *task*. Raises CannotDrawError.

    Quick recall asks what main tasks asked before, of a kind of which that is known.
    """
    choice, before = Choice.of(task), asked_before(task)
    if task.part == Part.QUICK_RECALL and not choice.only.facts:
        plan = task.day_plan
        if facts := facts_met(plan.school_class, plan.date).get(task.kind):
            try:
                return draw(replace(choice, only=replace(choice.only, facts=tuple(facts))), before)
            except CannotDrawError:
                pass  # Too few facts were met for as many prompts: others come in.
    return draw(choice, before)


def draw_in_place_of(old: Prompt, choice: Choice, avoid: Iterable[str]) -> Prompt:
    """Draw one prompt that is not in *avoid* to stand where *old* stood. Raises CannotDrawError.

    In a set about one number it is about the same number.
    """
    number = old.numbers[0] if kind_kept(choice.kind).one_number else None
    one = replace(choice, count=1, number=number)
    return draw(one, drawing.Before(today=set(avoid))).prompts[0]

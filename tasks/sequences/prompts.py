"""The prompts of a sequence: which are drawn, beside which, and how they are stored."""

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from django.utils import timezone

from portal.people.models import SchoolClass
from tasks.models import DayPlan, DayPlanQuerySet, Task, TaskPrompt
from tasks.models import Sequence as DaySequence
from tasks.numberwork.sequences.filling import CLASS, Slot, fill, repeats
from tasks.plans.prompt_selection import (
    LOOK_BACK,
    Choice,
    facts_met,
    new_seed,
    own_of,
    with_own,
)


def in_order(tasks: Collection[Task]) -> list[Task]:
    """Sort tasks by day, the class's own before those of groups, and by part."""
    return sorted(tasks, key=lambda task: (task.day_plan.date, task.group_id or 0, task.position))


@dataclass(frozen=True, slots=True)
class Earlier:
    """What the class was asked before a sequence and beside it.

    lately: dresses of the week before, longest ago first. met: facts of all main tasks, by kind.
    """

    lately: list[str]
    met: dict[str, list[str]]


def asked_earlier(school_class: SchoolClass, sequence: DaySequence) -> Earlier:
    """Return what the class was set before a sequence, and beside it."""
    around = DayPlan.objects.filter(school_class=school_class).between(
        sequence.first - LOOK_BACK, sequence.last
    )
    if sequence.pk:
        around = around.exclude(sequence=sequence)
    return _asked_on(around, facts_met(school_class, sequence.first))


def asked_before_day(school_class: SchoolClass, day: dt.date) -> Earlier:
    """Return what the class was set before a day."""
    plans = DayPlan.objects.filter(school_class=school_class)
    week = plans.between(day - LOOK_BACK, day - dt.timedelta(days=1))
    return _asked_on(week, facts_met(school_class, day))


def _asked_on(plans: DayPlanQuerySet, met: dict[str, list[str]]) -> Earlier:
    """Return what is asked on *plans*, with the facts that main tasks asked before."""
    rows = TaskPrompt.objects.filter(task__day_plan__in=plans).only("data", "task", "position")
    rows = rows.order_by("task__day_plan__date", "task", "position")
    return Earlier([row.dress for row in rows], met)


def slots_of(tasks: Sequence[Task], anew: Collection[Task]) -> list[Slot]:
    """Return the slots of *tasks*, those in *anew* to be drawn."""
    dates = sorted({task.day_plan.date for task in tasks})
    place = {date: number for number, date in enumerate(dates)}
    groups = {task.group_id for task in tasks if task.group_id}
    own = {(task.day_plan.date, task.part, task.group_id) for task in tasks}
    drawn = {id(task) for task in anew}
    return [
        _slot(task, place[task.day_plan.date], groups, own, id(task) in drawn) for task in tasks
    ]


def _slot(
    task: Task,
    place: int,
    groups: Collection[int],
    own: Collection[tuple[dt.date, str, int | None]],
    is_drawn: bool,
) -> Slot:
    """Return the slot of one task: the class's own is read by every group without a version."""
    date, part = task.day_plan.date, task.part
    without = {group for group in groups if (date, part, group) not in own}
    readers = frozenset((task.group_id,)) if task.group_id else frozenset((CLASS, *without))
    dresses = tuple(row.dress for row in task.prompts.all()) if task.pk else ()
    kept, before = ((), dresses) if is_drawn else (dresses, ())
    return Slot(place, Choice.of(task), readers, part, kept, before)


def repeated(tasks: Sequence[Task]) -> list[Task]:
    """Return those of *tasks* with a prompt that the same child is asked again within days."""
    return [tasks[place] for place in repeats(slots_of(tasks, ()))]


def draw_together(
    tasks: Sequence[Task], anew: Collection[Task], seed: int, earlier: Earlier
) -> list[TaskPrompt]:
    """Draw the prompts of the tasks in *anew* beside those of the others, in order.

    The tasks get their seeds and counts; nothing is saved. Gives the unsaved rows.
    """
    rows, now = [], timezone.now()
    drawn = fill(slots_of(tasks, anew), seed, earlier.lately, earlier.met)
    for task, prompts in zip(tasks, drawn, strict=True):
        if prompts is not None and any(task is each for each in anew):
            task.seed, task.drawn_at = prompts.seed, now
            task.count = len(prompts.prompts)
            whole = with_own(own_of(task), prompts.prompts)
            rows += [TaskPrompt.of(task, *each) for each in enumerate(whole)]
    return rows


def redraw(tasks: Sequence[Task], anew: Collection[Task], earlier: Earlier) -> list[Task]:
    """Draw the stored tasks in *anew* and save them. Gives those that now have fewer prompts.

    What a teacher wrote herself stays; a part of nothing else is not drawn.
    """
    anew = [task for task in anew if task.count]
    wanted = {task.pk: task.count for task in anew}
    rows = draw_together(tasks, anew, new_seed(), earlier)
    TaskPrompt.objects.filter(task__in=wanted).delete()
    Task.objects.bulk_update(anew, ["seed", "count", "drawn_at"])
    TaskPrompt.objects.bulk_create(rows)
    return [task for task in anew if task.count < wanted[task.pk]]

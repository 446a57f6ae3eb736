"""The prompts of a sequence: which are drawn, beside which, and how they are stored."""

import datetime as dt
import secrets
from collections.abc import Collection, Sequence

from django.utils import timezone

from portal.people.models import SchoolClass
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.models import Sequence as DaySequence
from tasks.plans.prompt_selection import LOOK_BACK, Choice
from tasks.sequences.fill import CLASS, Slot, fill, repeats


def new_seed() -> int:
    """Return a seed that nobody can guess."""
    return secrets.randbelow(2**31)


def in_order(tasks: Collection[Task]) -> list[Task]:
    """Sort tasks by day, the class's own before those of groups, and by part."""
    return sorted(tasks, key=lambda task: (task.day_plan.date, task.group_id or 0, task.position))


def lately_asked(school_class: SchoolClass, sequence: DaySequence) -> set[str]:
    """Return the keys of what the class was set in the week before a sequence, and beside it."""
    around = DayPlan.objects.filter(school_class=school_class).between(
        sequence.first - LOOK_BACK, sequence.last
    )
    if sequence.pk:
        around = around.exclude(sequence=sequence)
    rows = TaskPrompt.objects.filter(task__day_plan__in=around).only("data")
    return {row.key for row in rows}


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
    keys = tuple(row.key for row in task.prompts.all()) if task.pk else ()
    kept, before = ((), keys) if is_drawn else (keys, ())
    return Slot(place, Choice.of(task), readers, kept, before)


def repeated(tasks: Sequence[Task]) -> list[Task]:
    """Return those of *tasks* with a prompt that the same child is asked again within days."""
    return [tasks[place] for place in repeats(slots_of(tasks, ()))]


def draw_together(
    tasks: Sequence[Task], anew: Collection[Task], seed: int, lately: Collection[str]
) -> list[TaskPrompt]:
    """Draw the prompts of the tasks in *anew* beside those of the others, in order.

    The tasks get their seeds and counts; nothing is saved. Gives the unsaved rows.
    """
    rows = []
    drawn = fill(slots_of(tasks, anew), seed, lately)
    for task, prompts in zip(tasks, drawn, strict=True):
        if prompts is not None and any(task is each for each in anew):
            task.seed, task.drawn_at = prompts.seed, timezone.now()
            task.count = len(prompts.prompts)
            rows += [TaskPrompt.of(task, *each) for each in enumerate(prompts.prompts)]
    return rows


def redraw(tasks: Sequence[Task], anew: Collection[Task], lately: Collection[str]) -> list[Task]:
    """Draw the stored tasks in *anew* and save them. Gives those that now have fewer prompts."""
    wanted = {task.pk: task.count for task in anew}
    rows = draw_together(tasks, anew, new_seed(), lately)
    TaskPrompt.objects.filter(task__in=wanted).delete()
    Task.objects.bulk_update(anew, ["seed", "count", "drawn_at"])
    TaskPrompt.objects.bulk_create(rows)
    return [task for task in anew if task.count < wanted[task.pk]]

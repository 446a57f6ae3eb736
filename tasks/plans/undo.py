"""What a change takes out and puts in, kept as plain values so that it can be undone."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from django.utils import timezone

from portal.people.models import Group
from tasks.cards.wording import FIELDS
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.plans.prompt_selection import Choice

Kept = dict[str, Any]


def whole(task: Task) -> Kept:
    """Return *task* with its words and prompts as values that JSON can hold."""
    names = ("part", "group_id", "seed", "locked", "count", *FIELDS)
    return {
        "task": {**asdict(Choice.of(task)), **{name: getattr(task, name) for name in names}},
        "prompts": [kept_of(row) for row in task.prompts.all()],
    }


def kept_of(row: TaskPrompt) -> Kept:
    """Return all of a prompt, with the words its row has even where the rest cannot be read."""
    return row.data | {"sentence": row.sentence, "spoken": row.spoken}


def change_of(out: Iterable[Task] = (), put_in: Iterable[Task] = ()) -> Kept:
    """Return a change of a plan as `undo_changes` reads it: parts taken *out* and *put_in*.

    A part whose questions are about to change is both: what stands then goes when it is undone.
    """
    return {"out": [whole(task) for task in out], "put_in": [task.pk for task in put_in]}


def undo_changes(changes: Iterable[tuple[DayPlan, Kept]]) -> None:
    """Undo changes of plans of one class; versions of groups that are gone do not come back.

    Each with what `change_of` gave, or with a single part as rows held it before.
    """
    changes = list(changes)
    classes = {plan.school_class_id for plan, _kept in changes}
    groups = Group.objects.filter(school_class__in=classes).values_list("pk", flat=True)
    there = {None, *groups}
    put_in = [pk for _plan, kept in changes for pk in kept.get("put_in", ())]
    plans = [plan.pk for plan, _kept in changes]
    Task.objects.filter(day_plan__in=plans, pk__in=put_in).delete()
    put_whole(
        (plan, part)
        for plan, kept in changes
        for part in ([kept] if "task" in kept else kept["out"])
        if part["task"]["group_id"] in there
    )


def put_whole(parts: Iterable[tuple[DayPlan, Kept]]) -> list[Task]:
    """Put parts back as they were, each on its plan, and give them. Two queries for all."""
    parts, now = list(parts), timezone.now()
    tasks = Task.objects.bulk_create(
        Task(day_plan=plan, drawn_at=now, **kept["task"]) for plan, kept in parts
    )
    TaskPrompt.objects.bulk_create(
        TaskPrompt(
            task=task,
            position=position,
            sentence=data["sentence"],
            spoken=data["spoken"],
            data=data,
        )
        for task, (_plan, kept) in zip(tasks, parts, strict=True)
        for position, data in enumerate(kept["prompts"])
    )
    return tasks

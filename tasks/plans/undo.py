"""A part kept whole as plain values, so that taking it out can be undone."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from tasks.cards.wording import FIELDS
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.plans.prompt_selection import Choice

Kept = dict[str, Any]


def whole(task: Task) -> Kept:
    """Return *task* with its words and prompts as values that JSON can hold."""
    names = ("part", "group_id", "seed", "locked", *FIELDS)
    return {
        "task": {**{name: getattr(task, name) for name in names}, **asdict(Choice.of(task))},
        "prompts": [kept_of(row) for row in task.prompts.all()],
    }


def kept_of(row: TaskPrompt) -> Kept:
    """Return all of a prompt, with the words its row has even where the rest cannot be read."""
    return row.data | {"sentence": row.sentence, "spoken": row.spoken}


def put_whole(parts: Iterable[tuple[DayPlan, Kept]]) -> None:
    """Put parts back as they were, each on its plan. Two queries, however many parts."""
    parts = list(parts)
    tasks = Task.objects.bulk_create(Task(day_plan=plan, **kept["task"]) for plan, kept in parts)
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

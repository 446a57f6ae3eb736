"""The days of a sequence, as they are read to be printed, without storing them."""

from collections.abc import Iterator
from dataclasses import asdict

from tasks.cards.wording import usual_wording
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import KINDS, DayDraft, plan_sequence
from tasks.printing import Day
from tasks.printing.of_plan import read_part
from tasks.printing.sample import ADDRESS, MONDAY


def planned_days(focus: str, seed: int, days: int = 5) -> Iterator[Day]:
    """Yield the days that are drafted for the class on *focus*."""
    for draft in plan_sequence(focus, days, 20, seed):
        # A long date and a focus in its words, as the heads of both sides have them.
        title = "Wednesday 25 November 2026"
        tasks = _tasks(draft)
        yield Day(MONDAY, title, KINDS[focus].title, "", tuple(map(read_part, tasks)), ADDRESS)


def _tasks(draft: DayDraft) -> Iterator[Task]:
    plan = DayPlan(date=MONDAY)
    for name, part in draft.parts.items():
        idea = part.idea if name == Task.Part.TRY_AT_HOME else ""
        wording = usual_wording(name, part.kind, idea, explains=part.explains)
        task = Task(pk=1, day_plan=plan, part=name, **asdict(part.choice), **asdict(wording))
        rows = [TaskPrompt.of(task, place, each) for place, each in enumerate(part.prompts())]
        task._prefetched_objects_cache = {"prompts": rows}
        yield task

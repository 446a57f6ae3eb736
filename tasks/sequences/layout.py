"""A sequence as its teacher sees it: week by week, day by day, part by part."""

import datetime as dt
from dataclasses import dataclass, field

from django.db.models import Prefetch

from portal.people.models import SchoolClass
from tasks.days import monday_of, school_days
from tasks.models import DayPlan, Sequence, Task
from tasks.sequences.history import last_set
from tasks.sequences.prompts import in_order
from tasks.sequences.reasons import Reasons
from tasks.sequences.slots import Place
from tasks.week import Day, closures


@dataclass(frozen=True, slots=True)
class LaidPart:
    """One part on one day, with the versions of groups. why: the reason it is there."""

    task: Task
    why: str
    versions: list["LaidPart"] = field(default_factory=list)

    @property
    def may_move(self) -> bool:
        """Whether it can change places with another part."""
        every = [self, *self.versions]
        return not self.task.day_plan.is_out and not any(part.task.locked for part in every)

    @property
    def place(self) -> str:
        """Name where it stands, as deeds read it: 2026-11-23/main_task."""
        return str(Place(self.task.day_plan.date, self.task.part))

    @property
    def sentences(self) -> list[str]:
        """Return its prompts as they are written."""
        return [row.sentence for row in self.task.prompts.all()]

    @property
    def number(self) -> int | None:
        """Return the number it is about, where that is the number of the day."""
        rows = self.task.prompts.all()
        is_about_one = self.task.kind == "number-of-the-day" and rows
        return (rows[0].kept("numbers") or [None])[0] if is_about_one else None


@dataclass(frozen=True, slots=True)
class LaidDay:
    """One school day: its parts if it belongs to the sequence, else why it does not.

    day.plan: of the sequence, or one of its own that stays as it is. is_within: between the
    first and the last day of the sequence.
    """

    day: Day
    parts: list[LaidPart]
    is_ours: bool
    is_within: bool

    @property
    def place(self) -> str:
        """Name where it stands, as deeds read it: 2026-11-23."""
        return str(Place(self.day.date))

    @property
    def may_move(self) -> bool:
        """Whether it can change places with another day: no part of it has to stay."""
        return self.is_ours and all(part.may_move for part in self.parts)

    @property
    def is_locked(self) -> bool:
        """Whether every part of it is locked."""
        return bool(self.parts) and all(self._locks)

    @property
    def _locks(self) -> list[bool]:
        return [part.task.locked for part in self.parts]


def laid_out(sequence: Sequence, school_class: SchoolClass) -> list[list[LaidDay]]:
    """Return the weeks of a sequence, Monday to Friday each; six queries however long it is."""
    first, last = sequence.first, sequence.last
    plans = plans_between(school_class, first, last)
    closed = closures(school_class, first, last)
    reasons = Reasons(last_set(school_class, first), sequence.known)
    today = school_class.school.today()
    weeks = []
    monday = monday_of(first)
    while monday <= last:
        weeks.append(
            [
                _day(date, plans.get(date), sequence, closed.get(date, ""), today, reasons)
                for date in school_days(monday)
            ]
        )
        monday += dt.timedelta(days=7)
    return weeks


def plans_between(
    school_class: SchoolClass, first: dt.date, last: dt.date
) -> dict[dt.date, DayPlan]:
    """Return the plans of a class from *first* to *last* by date, tasks and prompts fetched."""
    tasks = Prefetch("tasks", Task.objects.select_related("group").prefetch_related("prompts"))
    plans = school_class.day_plans.between(first, last).prefetch_related(tasks)
    return {plan.date: plan for plan in plans}


def _day(
    date: dt.date,
    plan: DayPlan | None,
    sequence: Sequence,
    closed_for: str,
    today: dt.date,
    reasons: Reasons,
) -> LaidDay:
    """Lay out one day."""
    tasks = in_order(plan.tasks.all()) if plan else []
    is_ours = bool(tasks) and plan.sequence_id == sequence.pk
    is_within = sequence.first <= date <= sequence.last
    day = Day(date, plan, tasks, closed_for, today)
    if not is_ours:
        reasons.meet(tasks)
        return LaidDay(day, [], is_ours, is_within)
    return LaidDay(day, _parts(tasks, reasons.of_day(tasks)), is_ours, is_within)


def _parts(tasks: list[Task], why: dict[int, str]) -> list[LaidPart]:
    """Put the versions of groups with the class's own part, in the order of the day."""
    parts = []
    for name in Task.Part.values:
        of_part = [task for task in tasks if task.part == name]
        own = [task for task in of_part if task.group_id is None]
        versions = [LaidPart(task, "") for task in of_part if task.group_id]
        if own:
            parts.append(LaidPart(own[0], why.get(own[0].pk, ""), versions))
        else:
            parts += versions
    return parts

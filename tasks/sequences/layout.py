"""A sequence as its teacher sees it: week by week, day by day, part by part."""

import datetime as dt
from dataclasses import dataclass, field

from django.db.models import Prefetch

from portal.people.models import SchoolClass
from tasks.cards.card import Line
from tasks.days import monday_of, school_days
from tasks.models import DayPlan, Sequence, Task
from tasks.numberwork import kind_kept
from tasks.plans.history import last_set
from tasks.sequences.news import news
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
        """Name where it stands, as actions read it: 2026-11-23/main_task."""
        return str(Place(self.task.day_plan.date, self.task.part))

    @property
    def sentences(self) -> list[str]:
        """Return its prompts as they are written."""
        return [row.sentence for row in self.task.prompts.all()]

    @property
    def number(self) -> int | None:
        """Return the number it is about, where that is the number of the day."""
        rows = self.task.prompts.all()
        is_about_one = kind_kept(self.task.kind).one_number and rows
        return (rows[0].kept("numbers") or [None])[0] if is_about_one else None


@dataclass(frozen=True, slots=True)
class LaidDay:
    """One school day: its parts if it belongs to the sequence, else why it does not.

    day.plan: of the sequence, or one of its own that stays as it is. is_within: between the
    first and the last day of the sequence. news: what its main task has that is new.
    """

    day: Day
    parts: list[LaidPart]
    is_ours: bool
    is_within: bool
    news: list[str] = field(default_factory=list)

    @property
    def place(self) -> str:
        """Name where it stands, as actions read it: 2026-11-23."""
        return str(Place(self.day.date))

    @property
    def main(self) -> LaidPart | None:
        """Return the main task of the class."""
        mains = (part for part in self.parts if part.task.part == Task.Part.MAIN_TASK)
        return next((part for part in mains if part.task.group_id is None), None)

    @property
    def group_names(self) -> str:
        """Name the groups that have a version of the main task."""
        versions = self.main.versions if self.main else []
        return ", ".join(version.task.group.name for version in versions)

    @property
    def first_line(self) -> Line | None:
        """Return the first prompt of the main task as a card shows it."""
        rows = self.main.task.prompts.all() if self.main else []
        return Line.of(rows[0]) if rows else None

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
    weeks, mains = [], list[Task]()
    monday = monday_of(first)
    while monday <= last:
        weeks.append(
            [
                _day(date, plans.get(date), sequence, closed.get(date, ""), today, reasons, mains)
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
    mains: list[Task],
) -> LaidDay:
    """Lay out one day. mains: the main tasks before it, to which its own is added."""
    tasks = in_order(plan.tasks.all()) if plan else []
    is_ours = bool(tasks) and plan.sequence_id == sequence.pk
    is_within = sequence.first <= date <= sequence.last
    day = Day(date, plan, tasks, closed_for, today)
    if not is_ours:
        # What was never set has not been met, so nothing is back after it.
        reasons.meet(tasks if plan and plan.goes_out_at else ())
        return LaidDay(day, [], is_ours, is_within)
    own = [task for task in tasks if task.part == Task.Part.MAIN_TASK and not task.group_id]
    said = [line for task in own for line in _news(task, mains)]
    mains += own
    return LaidDay(day, _parts(tasks, reasons.of_day(tasks)), is_ours, is_within, said)


def _news(task: Task, mains: list[Task]) -> list[str]:
    """Say what is new in a main task after those before it."""
    before = next((main for main in reversed(mains) if main.kind == task.kind), None)
    return news(task, before, is_first=not mains)


def closed_all_week(week: list[LaidDay]) -> str:
    """Return why there is no school in a whole week; "" where there is some."""
    reasons = {each.day.closed_for for each in week}
    return reasons.pop() if len(reasons) == 1 else ""


def _parts(tasks: list[Task], why: dict[int, str]) -> list[LaidPart]:
    """Put the versions of groups with the class's own part, in the order of the day."""
    parts = []
    steps = tasks[0].day_plan.steps
    for name in steps:
        of_part = [task for task in tasks if task.part == name]
        own = [task for task in of_part if task.group_id is None]
        versions = [LaidPart(task, "") for task in of_part if task.group_id]
        if own:
            parts.append(LaidPart(own[0], why.get(own[0].pk, ""), versions))
        else:
            parts += versions
    return parts

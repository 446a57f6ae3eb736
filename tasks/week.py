"""The week of one class at a glance: each day's parts, and what is set, drafted or empty."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import Prefetch
from django.utils import timezone

from portal.people.models import Closure, SchoolClass
from tasks.days import school_days
from tasks.minutes import minutes_of
from tasks.models import DayPlan, Task, TaskPrompt


@dataclass(frozen=True, slots=True)
class Day:
    """One school day: its plan and parts if there is one, and why the school is closed."""

    date: dt.date
    plan: DayPlan | None
    parts: list[Task]
    closed_for: str
    today: dt.date

    @property
    def state(self) -> str:
        """Say how far the day is: empty, draft, set (not out yet) or out."""
        if self.plan is None or not self.parts:
            return "empty"
        if self.plan.goes_out_at is None:
            return "draft"
        return "out" if self.plan.goes_out_at <= timezone.now() else "set"

    @property
    def may_be_set(self) -> bool:
        """Whether it is a draft of a day on which there is school."""
        return self.state == "draft" and not self.closed_for

    @property
    def minutes(self) -> int:
        """Return about how many minutes a child takes who is in no group, the prompts fetched."""
        return minutes_of(task for task in self.parts if task.group_id is None)

    @property
    def is_long(self) -> bool:
        """Whether it takes longer than its plan says it may."""
        return self.plan is not None and self.minutes > self.plan.most_minutes

    @property
    def is_today(self) -> bool:
        """Whether it is today at the school."""
        return self.date == self.today

    @property
    def has_gone_by(self) -> bool:
        """Whether the day is before today at the school."""
        return self.date < self.today


def week_of(school_class: SchoolClass, monday: dt.date) -> list[Day]:
    """Return Monday to Friday of *school_class*, with four queries."""
    dates = school_days(monday)
    prompts = Prefetch("prompts", TaskPrompt.objects.only("task", "position", "spoken"))
    tasks = Prefetch("tasks", Task.objects.select_related("group").prefetch_related(prompts))
    plans = school_class.day_plans.between(dates[0], dates[-1]).prefetch_related(tasks)
    by_date = {plan.date: plan for plan in plans}
    closed = closures(school_class, dates[0], dates[-1])
    today = school_class.school.today()
    return [
        Day(date, by_date.get(date), _in_order(by_date.get(date)), closed.get(date, ""), today)
        for date in dates
    ]


def _in_order(plan: DayPlan | None) -> list[Task]:
    """Return the tasks of *plan* by part, the class's own before those of groups."""
    tasks = plan.tasks.all() if plan else []
    return sorted(tasks, key=lambda task: (task.position, task.group_id or 0))


def closures(school_class: SchoolClass, first: dt.date, last: dt.date) -> dict[dt.date, str]:
    """Return the dates from *first* to *last* on which the school is closed, and why."""
    shut = Closure.objects.filter(school=school_class.school, first__lte=last, last__gte=first)
    span = [first + dt.timedelta(days=number) for number in range((last - first).days + 1)]
    return {day: each.name for each in shut for day in span if each.first <= day <= each.last}

"""Taking part over the weeks: from how many children of a class something came."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count
from django.db.models.functions import TruncWeek
from django.utils.formats import date_format

from assessment.charts import Bar, columns
from assessment.exports import Table
from assessment.insight.weeks import Week
from assessment.week_rows import span
from evidence.models import Submission
from portal.people.models import Child, SchoolClass, User
from tasks.models import DayPlan


@dataclass(frozen=True)
class WeekOfClass:
    """One week: on how many days work was set, and from how many of the children it came."""

    week: Week
    days_set: int
    heard: int
    children: int

    @property
    def name(self) -> str:
        """Name the week by its Monday, short."""
        return date_format(self.week.monday, "j M")


def weeks_of(school_class: SchoolClass, user: User) -> list[WeekOfClass]:
    """Give the weeks of the year of *school_class* so far in which work was set or came.

    Children are those in the class now. A piece counts in the week it came.
    """
    children = Child.objects.taught_by(user).filter(school_class=school_class)
    keys = list(children.values_list("pk", flat=True))
    school, year = school_class.school, school_class.year
    begins, _ends = span(Week.of(year.starts), school)
    work = Submission.objects.standing().filter(child__in=keys, sent_at__gte=begins)
    by_week = work.annotate(monday=TruncWeek("sent_at", tzinfo=school.zone)).values_list("monday")
    heard = {
        Week.of(monday.date()): count
        for monday, count in by_week.annotate(Count("child", distinct=True)).order_by()
    }
    plans = DayPlan.objects.out().filter(school_class=school_class, tasks__isnull=False)
    days: dict[Week, int] = {}
    for date in plans.distinct().values_list("date", flat=True):
        days[Week.of(date)] = days.get(Week.of(date), 0) + 1
    return [
        WeekOfClass(week, days.get(week, 0), heard.get(week, 0), len(keys))
        for week in sorted({*heard, *days})
    ]


def chart_of(title: str, weeks: Sequence[WeekOfClass]) -> str:
    """Draw from how many children something came, week by week."""
    return columns(title, [Bar(one.name, one.heard, one.children) for one in weeks])


def weeks_table(name: str, headings: Sequence[object], weeks: Sequence[WeekOfClass]) -> Table:
    """Give the weeks as a table."""
    rows = [(one.week, one.week.monday, one.days_set, one.heard, one.children) for one in weeks]
    return Table(name, headings, rows)

"""Taking part over the weeks: from how many children of a class something came."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet
from django.db.models.functions import TruncWeek
from django.utils.formats import date_format

from assessment.charts import Bar, columns
from assessment.insight.weeks import Week
from assessment.progress.week_rows import span
from assessment.spreadsheets import Table
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.models import Child, School, SchoolClass, User
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
    """Return the weeks of *school_class* this year so far that had work set or sent.

    Children are those in the class now. A piece counts in the week it came, and so does the word
    of a home that it could not be done.
    """
    children = Child.objects.taught_by(user).filter(school_class=school_class)
    keys = list(children.values_list("pk", flat=True))
    school, year = school_class.school, school_class.year
    begins, _ends = span(Week.of(year.starts), school)
    work = Submission.objects.active().filter(child__in=keys, sent_at__gte=begins)
    said = Nonsubmission.objects.active().filter(child__in=keys, said_at__gte=begins)
    heard_of = {*weekly(work, "sent_at", school), *weekly(said, "said_at", school)}
    heard = Counter(week for week, _child in heard_of)
    plans = DayPlan.objects.out().filter(school_class=school_class, tasks__isnull=False)
    days: dict[Week, int] = {}
    for date in plans.distinct().values_list("date", flat=True):
        days[Week.of(date)] = days.get(Week.of(date), 0) + 1
    return [
        WeekOfClass(week, days.get(week, 0), heard.get(week, 0), len(keys))
        for week in sorted({*heard, *days})
    ]


def weekly(rows: QuerySet[Any], moment: str, school: School) -> Iterator[tuple[Week, int]]:
    """Return each week and child, by its key, of which there is one of *rows*."""
    weeks = rows.annotate(monday=TruncWeek(moment, tzinfo=school.zone)).order_by()
    for monday, child in weeks.values_list("monday", "child").distinct():
        yield Week.of(monday.date()), child


def chart_of(title: str, weeks: Sequence[WeekOfClass]) -> str:
    """Draw from how many children something came, week by week."""
    return columns(title, [Bar(one.name, one.heard, one.children) for one in weeks])


def weeks_table(name: str, headings: Sequence[object], weeks: Sequence[WeekOfClass]) -> Table:
    """Return the weeks as a table."""
    rows = [(one.week, one.week.monday, one.days_set, one.heard, one.children) for one in weeks]
    return Table(name, headings, rows)

"""Taking part, day by day: what became of each day's work in a class."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.utils.formats import date_format

from assessment.charts import Stack, stacks
from assessment.insight.rows import Sent
from assessment.insight.taking_part import Part, by_day, drawn_as, parts_of
from assessment.insight.weeks import SCHOOL_WEEKDAYS, Week
from assessment.progress.ways_in import home_way, with_ways_in
from assessment.spreadsheets import Table
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.models import Child, SchoolClass, User
from tasks.models import DayPlan

DRAWN = 12  # weeks; they fill the frame


@dataclass(frozen=True)
class DayOfClass:
    """One school day: how many children of each part. Without work set, `why` says why not."""

    date: dt.date
    parts: Counter[Part] | None
    why: str = ""

    @property
    def counts(self) -> list[tuple[Part, int]]:
        """Return each part there is, and for how many children, in one fixed order."""
        return [(part, self.parts[part]) for part in Part if self.parts and self.parts[part]]


@dataclass(frozen=True)
class WeekOfClass:
    """The school days of one week of a class."""

    week: Week
    days: list[DayOfClass]

    @property
    def days_set(self) -> list[DayOfClass]:
        """Return the days on which work was set."""
        return [day for day in self.days if day.parts is not None]

    @property
    def closed_for(self) -> str:
        """Say why there was no work in the whole week; "" if there was some."""
        return "" if self.days_set else next((day.why for day in self.days if day.why), "")


def weeks_of(school_class: SchoolClass, user: User) -> list[WeekOfClass]:
    """Return the weeks of *school_class* from the first to the last on which work was set so far.

    Children are those in the class now. A piece counts on the day it was set for.
    """
    own = Child.objects.taught_by(user).filter(school_class=school_class)
    school = school_class.school
    ways = {child.pk: home_way(child, school).way for child in with_ways_in(own)}
    plans = DayPlan.objects.out().filter(school_class=school_class, tasks__isnull=False)
    dates = sorted(set(plans.values_list("date", flat=True)))
    if not dates:
        return []
    key = ("child", "day_plan__date")
    of_days = {"child__in": list(ways), "day_plan__date__range": (dates[0], dates[-1])}
    sent = Submission.objects.active().filter(**of_days).order_by().values_list(*key)
    told = Nonsubmission.objects.active().filter(**of_days).order_by().values_list(*key)
    rows = [[Sent(*pair) for pair in pairs.distinct()] for pairs in (sent, told)]
    parts = parts_of(ways, dates, *rows, school.today())
    known = dict(zip(dates, by_day(parts.values(), len(dates)), strict=True))
    return laid_out(dates, known, closed_on(school_class, dates[0], dates[-1]))


def laid_out(
    dates: Sequence[dt.date], known: Mapping[dt.date, Counter[Part]], closed: Mapping[dt.date, str]
) -> list[WeekOfClass]:
    """Lay the days out in whole weeks, those without work among them."""
    week, last, found = Week.of(dates[0]), Week.of(dates[-1]), []
    while week <= last:
        days = [week.monday + dt.timedelta(days=place) for place in range(SCHOOL_WEEKDAYS)]
        found.append(
            WeekOfClass(
                week, [DayOfClass(day, known.get(day), closed.get(day, "")) for day in days]
            )
        )
        week = week.shifted(1)
    return found


def closed_on(school_class: SchoolClass, first: dt.date, last: dt.date) -> dict[dt.date, str]:
    """Return the days without school from *first* to *last*, each with its name."""
    rows = school_class.school.closures.filter(first__lte=last, last__gte=first)
    return {
        row.first + dt.timedelta(days=place): row.name
        for row in rows
        for place in range((row.last - row.first).days + 1)
    }


def chart_of(title: str, weeks: Sequence[WeekOfClass]) -> str:
    """Draw the latest weeks, a column a day, each as high as the class."""
    drawn = weeks[-DRAWN:]
    return stacks(title, [[stack_of(day) for day in one.days] for one in drawn], names_of(drawn))


def stack_of(day: DayOfClass) -> Stack:
    """Return what the column of *day* is made of, from its foot up."""
    return [(drawn_as(part), count) for part, count in day.counts]


def names_of(weeks: Iterable[WeekOfClass]) -> list[str]:
    """Name each week by its Monday, short."""
    return [date_format(one.week.monday, "j M") for one in weeks]


def days_table(name: str, headings: Sequence[object], weeks: Sequence[WeekOfClass]) -> Table:
    """Return the days as a table: the day, its week, and how many children of each part."""
    rows = [
        (one.week, day.date, *(day.parts[part] for part in Part))
        for one in weeks
        for day in one.days
        if day.parts is not None
    ]
    return Table(name, headings, rows)

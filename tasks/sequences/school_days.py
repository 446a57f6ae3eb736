"""Which days of a class are free to be planned."""

import datetime as dt
from itertools import islice

from django.utils.formats import date_format
from django.utils.translation import ngettext

from portal.people.models import SchoolClass
from tasks.days import SCHOOL_DAYS
from tasks.plans.planning import PlanningError
from tasks.week import closures


class TooFewDaysError(PlanningError):
    """The school year ends before there are as many days as are asked for."""


def free_days(school_class: SchoolClass, first: dt.date, count: int) -> list[dt.date]:
    """Return the first *count* school days from *first* on that have no plan yet; two queries.

    Left out are weekends, days on which the school is closed, and days with a plan, drafted or
    set. Raises TooFewDaysError when the school year ends before.
    """
    last = school_class.year.ends
    closed = closures(school_class, first, last)
    plans = school_class.day_plans.planned().filter(date__gte=first)
    taken = set(plans.values_list("date", flat=True))
    span = (first + dt.timedelta(days=number) for number in range((last - first).days + 1))
    free = (
        day
        for day in span
        if day.weekday() < SCHOOL_DAYS and day not in closed and day not in taken
    )
    days = list(islice(free, count))
    if len(days) < count:
        raise TooFewDaysError(_too_few(len(days), last))
    return days


def next_free_day(school_class: SchoolClass) -> dt.date:
    """Return the day after today that can be planned first; tomorrow where none can."""
    tomorrow = school_class.school.today() + dt.timedelta(days=1)
    start = max(tomorrow, school_class.year.starts)
    try:
        return free_days(school_class, start, 1)[0]
    except TooFewDaysError:
        return tomorrow


def _too_few(there: int, last: dt.date) -> str:
    return ngettext(
        "Until the school year ends on %(last)s there is only %(there)s free school day from "
        "then on. Choose fewer weeks or an earlier start.",
        "Until the school year ends on %(last)s there are only %(there)s free school days from "
        "then on. Choose fewer weeks or an earlier start.",
        there,
    ) % {"last": date_format(last, "j F"), "there": there}

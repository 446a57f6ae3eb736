"""Homes that said a day's work could not be done: they were heard from, and it is no evidence."""

import datetime as dt
from collections.abc import Collection

from django.utils import timezone

from assessment.insight.rows import Sent
from assessment.insight.weeks import Week
from assessment.progress.week_rows import day_at, span
from evidence.submissions.nonsubmissions import CouldNot, CouldNotQuerySet
from portal.people.models import SchoolClass, User

SHOWN_FOR = dt.timedelta(days=7)
AT_MOST = 60


def told_lately(school_class: SchoolClass, user: User) -> list[CouldNot]:
    """List what homes of *school_class* said in the last days, the latest first, for its staff."""
    said = CouldNot.objects.taught_by(user).standing()
    lately = said.filter(child__school_class=school_class, said_at__gt=timezone.now() - SHOWN_FOR)
    return list(lately.select_related("child", "day_plan")[:AT_MOST])


def told_in_week(
    school_class: SchoolClass, children: Collection[int], week: Week
) -> list[CouldNot]:
    """List what was said in *week* about *children*, by their keys, for days of any week."""
    said = in_span(school_class, children, week)
    return list(said.select_related("day_plan").order_by("said_at", "pk"))


def told_rows(school_class: SchoolClass, said: Collection[CouldNot]) -> list[Sent]:
    """Give *said* as rows for assessment.insight to reckon with."""
    school = school_class.school
    return [Sent(one.child_id, day_at(school, one.said_at)) for one in said]


def in_span(school_class: SchoolClass, children: Collection[int], week: Week) -> CouldNotQuerySet:
    """Narrow what stands to *children* and the moments of *week* by the school's clocks."""
    begins, ends = span(week, school_class.school)
    standing = CouldNot.objects.standing().filter(child__in=children)
    return standing.filter(said_at__gte=begins, said_at__lt=ends)

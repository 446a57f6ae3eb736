"""Homes that said a day's work could not be done: they were heard from, and it is no evidence."""

from collections.abc import Collection

from assessment.insight.rows import Sent
from assessment.insight.weeks import Week
from assessment.progress.week_rows import day_at, span
from evidence.submissions.nonsubmissions import Nonsubmission, NonsubmissionQuerySet
from portal.people.models import SchoolClass


def nonsubmissions_in_week(
    school_class: SchoolClass, children: Collection[int], week: Week
) -> list[Nonsubmission]:
    """List what was said in *week* about *children*, by their keys, for days of any week."""
    said = in_span(school_class, children, week)
    return list(said.select_related("day_plan").order_by("said_at", "pk"))


def nonsubmission_rows(school_class: SchoolClass, said: Collection[Nonsubmission]) -> list[Sent]:
    """Return *said* as rows for assessment.insight to reckon with."""
    school = school_class.school
    return [Sent(one.child_id, day_at(school, one.said_at)) for one in said]


def in_span(
    school_class: SchoolClass, children: Collection[int], week: Week
) -> NonsubmissionQuerySet:
    """Narrow what stands to *children* and the moments of *week* by the school's clocks."""
    begins, ends = span(week, school_class.school)
    standing = Nonsubmission.objects.active().filter(child__in=children)
    return standing.filter(said_at__gte=begins, said_at__lt=ends)

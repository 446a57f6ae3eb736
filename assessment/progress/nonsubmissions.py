"""Homes that said a day's work could not be done: they were heard from, and it is no evidence."""

from collections.abc import Collection

from assessment.insight.rows import Sent
from assessment.insight.weeks import Week
from evidence.submissions.nonsubmissions import Nonsubmission


def nonsubmissions_for(children: Collection[int], week: Week) -> list[Nonsubmission]:
    """List what was said about *children*, by their keys, of the days of *week*."""
    said = Nonsubmission.objects.active().filter(
        child__in=children, day_plan__date__range=(week.monday, week.sunday)
    )
    return list(said.select_related("day_plan").order_by("day_plan__date", "pk"))


def nonsubmission_rows(said: Collection[Nonsubmission]) -> list[Sent]:
    """Return *said* as rows for assessment.insight to reckon with."""
    return [Sent(one.child_id, one.day_plan.date) for one in said]

"""Deleting what was set at a school: for portal.data_protection. No child is named in it."""

from portal.people.models import School
from tasks.models import DayPlan, OwnPrompt, Sequence


def close(school: School) -> None:
    """Delete the day plans and sequences of *school*, and the questions its teachers kept."""
    OwnPrompt.objects.at(school).delete()
    DayPlan.objects.filter(school_class__year__school=school).delete()
    Sequence.objects.filter(school_class__year__school=school).delete()

"""First steps on planning."""

from collections.abc import Iterator

from django.urls import reverse
from django.utils.translation import gettext as _

from portal.guide.steps import Newcomer, Step
from portal.people.models import StaffPost
from tasks.models import DayPlan, Sequence


def steps(who: Newcomer) -> Iterator[Step]:
    """Yield those of *who*'s role."""
    if who.role != StaffPost.Role.TEACHER or who.school_class is None:
        return
    week = reverse("tasks:plan-week", args=[who.school_class.pk])
    set_since = who.has(DayPlan.objects.exclude(goes_out_at=None), changed_by="changed_at")
    yield Step(10, _("Set a day’s work"), week, set_since)
    new = reverse("tasks:sequence-new", args=[who.school_class.pk])
    drafted = who.has(Sequence.objects.all(), made_by="made_at")
    yield Step(40, _("Draft a sequence on one focus"), new, drafted)

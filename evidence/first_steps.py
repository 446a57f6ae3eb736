"""First steps on sending and posting."""

from collections.abc import Iterator

from django.urls import reverse
from django.utils.translation import gettext as _

from evidence.models import Submission
from portal.guide.steps import FAMILY, Newcomer, Step
from portal.people.models import StaffPost


def steps(who: Newcomer) -> Iterator[Step]:
    """Yield those of *who*'s role."""
    sent = Submission.objects.filter(sent_by=who.user, sent_at__gte=who.since)
    if who.role == FAMILY:
        today = reverse("tasks:today")
        yield Step(20, _("Do today’s card and send what came of it"), today, sent.exists())
        helped = sent.exclude(help="").exists()
        yield Step(30, _("Say how much you helped"), today, helped)
    if who.role == StaffPost.Role.ASSISTANT and who.school_class:
        url = reverse("assessment:not-heard-from", args=[who.school_class.pk])
        posted = sent.filter(by_staff=True).exists()
        yield Step(30, _("Post work that came on paper"), url, posted)

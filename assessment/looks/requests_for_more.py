"""Asking a family for one more piece: which requests are still open."""

from collections.abc import Iterable

from django.db.models import Exists, OuterRef, QuerySet

from assessment.models import Look
from evidence.models import Submission
from evidence.submissions.answered import told_up_to
from portal.people.asking import Asker
from portal.people.models import Child


def still_asked(looks: QuerySet[Look]) -> QuerySet[Look]:
    """Keep of *looks* those by which a home is asked for one more, until it sends again.

    What it sends and takes back again does not count.
    """
    later = Submission.objects.active().filter(
        child=OuterRef("submission__child"),
        home=OuterRef("submission__home"),
        sent_at__gt=OuterRef("asked_more_at"),
    )
    answered = looks.filter(submission__in=Submission.objects.answered().active())
    return answered.filter(~Exists(later), asked_more_at__lte=told_up_to())


def asked_of(user: Asker, children: Iterable[Child] | None = None) -> QuerySet[Look]:
    """Return what the home of *user* is asked for one more of; for *children* alone, if given."""
    own = Submission.objects.from_home_of(user).active()
    if children is not None:
        own = own.filter(child__in=children)
    looks = still_asked(Look.objects.filter(submission__in=own))
    return looks.select_related("submission__child", "submission__day_plan").order_by(
        "asked_more_at"
    )

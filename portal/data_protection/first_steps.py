"""The first step about a family's choices."""

from collections.abc import Iterator

from django.urls import reverse
from django.utils.translation import gettext as _

from portal.guide.steps import FAMILY, Newcomer, Step
from portal.people.models import Consent


def steps(who: Newcomer) -> Iterator[Step]:
    """Yield those of *who*'s role."""
    if who.role == FAMILY:
        chosen = who.has(Consent.objects.all(), adult="at")
        yield Step(40, _("Say where photos may be shown"), reverse("privacy:family"), chosen)

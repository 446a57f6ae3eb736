"""What a card says where its work could not be done: {% load nonsubmissions %}."""

import datetime as dt
from typing import Any, NamedTuple

from django import template

from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.models import Child

register = template.Library()


class DayAtHome(NamedTuple):
    """What the reader's home has sent and said for one day."""

    sent: Submission | None
    could_not: Nonsubmission | None


@register.simple_tag
def day_at_home(user: Any, child: Child, date: dt.date) -> DayAtHome:
    """Return the latest that the home of *user* sent for the day, and whether it could not."""
    sent = Submission.objects.from_home_of(user).active()
    said = Nonsubmission.objects.from_home_of(user).active()
    about = {"child": child, "day_plan__date": date}
    return DayAtHome(sent.filter(**about).first(), said.filter(**about).first())

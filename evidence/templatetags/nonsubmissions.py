"""What a card says once its work was sent, or could not be done: {% load nonsubmissions %}."""

import datetime as dt
from typing import NamedTuple

from django import template
from django.utils.timezone import localtime

from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.asking import Asker
from portal.people.models import Child

register = template.Library()


class DayAtHome(NamedTuple):
    """What the reader's home has sent and said for one day."""

    sent: Submission | None
    could_not: Nonsubmission | None

    @property
    def sent_on(self) -> dt.date | None:
        """Return the day on which it was sent, which may be a later one."""
        return localtime(self.sent.sent_at).date() if self.sent else None


@register.simple_tag
def day_at_home(user: Asker, child: Child, date: dt.date) -> DayAtHome:
    """Return the latest that the home of *user* sent for the day, and whether it could not."""
    sent = Submission.objects.from_home_of(user).active()
    said = Nonsubmission.objects.from_home_of(user).active()
    about = {"child": child, "day_plan__date": date}
    return DayAtHome(sent.filter(**about).first(), said.filter(**about).first())

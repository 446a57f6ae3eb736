"""A family's week at a glance: of each school day, whether work is set, sent or still to come."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessment.insight.weeks import SCHOOL_WEEKDAYS, Week
from evidence.models import Submission
from portal.people.models import Child, Closure
from tasks.models import DayPlan

Closures = dict[tuple[int, dt.date], str]


@dataclass(frozen=True)
class DayAtAGlance:
    """One school day of a child. plan: what is set, if anything is out. closed_for: the holiday."""

    date: dt.date
    today: dt.date
    plan: DayPlan | None = None
    sent: Submission | None = None
    could_not: bool = False
    closed_for: str = ""

    @property
    def is_today(self) -> bool:
        """Whether it is today at the school."""
        return self.date == self.today

    @property
    def state(self) -> str:
        """Say how far the day is: closed, answered, sent, told, set, to come or none."""
        if self.sent:
            return "answered" if self.sent.is_answered else "sent"
        if self.could_not:
            return "told"
        if self.plan:
            return "set"
        if self.closed_for:
            return "closed"
        return "to come" if self.date >= self.today else "none"

    @property
    def words(self) -> str:
        """Say the same to a family."""
        if self.state == "closed":
            return _("School is closed: %(why)s.") % {"why": self.closed_for}
        return {
            "answered": _("Sent, and the teacher has looked"),
            "sent": _("Sent"),
            "told": _("It could not be done"),
            "set": _("Work is set"),
            "to come": _("Nothing is set yet"),
            "none": _("Nothing was set"),
        }[self.state]

    @property
    def icon(self) -> str:
        """Return the icon that goes with it."""
        return {
            "answered": "look",
            "sent": "tick",
            "told": "info",
            "set": "today",
            "closed": "stop",
        }.get(self.state, "wait")


def closed_days(children: Iterable[Child], week: Week) -> Closures:
    """Return the name of what each school of *children* is closed for, by its key and the day."""
    found: Closures = {}
    rows = Closure.objects.filter(
        school__in={child.school_id for child in children},
        first__lte=week.sunday,
        last__gte=week.monday,
    )
    for row in rows.order_by("-first"):
        for offset in range(SCHOOL_WEEKDAYS):
            day = week.monday + dt.timedelta(days=offset)
            if row.first <= day <= row.last:
                found[row.school_id, day] = row.name
    return found


def glance(
    child: Child,
    week: Week,
    days: dict[dt.date, tuple[DayPlan, list[Submission], bool]],
    closures: Closures,
) -> list[DayAtAGlance]:
    """Lay the school days of *week* out for *child*.

    days: the plans that are out, what the home sent for each, and whether it said it could not.
    """
    today = child.school.today()
    laid: list[DayAtAGlance] = []
    for offset in range(SCHOOL_WEEKDAYS):
        date = week.monday + dt.timedelta(days=offset)
        plan, sent, could_not = days.get(date, (None, [], False))
        closed_for = closures.get((child.school_id, date), "")
        latest = sent[-1] if sent else None
        laid.append(DayAtAGlance(date, today, plan, latest, could_not, closed_for))
    return laid

"""Setting a day's work: when families get to see it, and taking it back while nobody has begun."""

import datetime as dt

from django.utils import timezone
from django.utils.translation import gettext as _

from tasks.models import DayPlan
from tasks.plans.planning import PlanningError, Seen, changing


def set_day(plan: DayPlan, seen: Seen, at: dt.datetime | None = None) -> None:
    """Let families see the plan from *at* on; without it, from now. Raises PlanningError.

    A time that has gone by is refused, never taken as now.
    """
    with changing(plan, seen) as held:
        if not held.tasks.exists():
            raise PlanningError(_("There is nothing in this plan yet. Add a part first."))
        if held.is_out:
            raise PlanningError(_("Families can see this plan already."))
        now = timezone.now()
        if at is not None and at <= now:
            raise PlanningError(
                _("That time has gone by. Choose a later one, or set the work now.")
            )
        held.goes_out_at = at or now


def take_back(plan: DayPlan, seen: Seen) -> None:
    """Make the plan a draft again. Raises PlanningError once a family has sent work for it."""
    with changing(plan, seen) as held:
        if held.has_work:
            raise PlanningError(
                _("Families have sent work for this day, so it can no longer be taken back.")
            )
        held.goes_out_at = None


def arrange_day(plan: DayPlan, order: str, most_minutes: int, seen: Seen) -> None:
    """Put the parts of the day in *order* (see `DayPlan.steps`), and say how long it may take.

    Undone by doing it again. Raises PlanningError.
    """
    with changing(plan, seen) as held:
        held.order, held.most_minutes = order, most_minutes


def reword_day(plan: DayPlan, focus: str, note: str, seen: Seen) -> None:
    """Name the focus of the day and say a word to families. Raises PlanningError."""
    with changing(plan, seen) as held:
        held.focus, held.note = focus, note

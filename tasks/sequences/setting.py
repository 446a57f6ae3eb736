"""Setting all days of a sequence, throwing the draft away, and bringing it back."""

import datetime as dt
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _

from portal.people.models import Group
from tasks.models import DayPlan, Sequence, Task
from tasks.plans.planning import PlanningError, Seen
from tasks.plans.undo import put_whole, whole
from tasks.sequences.changing import Held, changing


def set_all(sequence: Sequence, moments: dict[dt.date, dt.datetime], seen: Seen) -> list[dt.date]:
    """Let families see each drafted day in *moments* from its moment on; gives those days.

    Days that are set already are left as they are. A moment that has gone by means now.
    Raises PlanningError when no day is left to be set.
    """
    with changing(sequence, seen) as held:
        now = timezone.now()
        filled = set(
            DayPlan.objects.filter(sequence=sequence.pk).planned().values_list("pk", flat=True)
        )
        due = [
            plan
            for plan in held.plans
            if plan.goes_out_at is None and plan.pk in filled and plan.date in moments
        ]
        if not due:
            raise PlanningError(_("There is no drafted day left to set."))
        for plan in due:
            plan.goes_out_at = max(moments[plan.date], now)
        held.touch(*due)
    return [plan.date for plan in due]


def throw_away(sequence: Sequence, seen: Seen) -> int:
    """Remove every day that was not set yet; gives how many. Until the next change `bring_back`
    undoes it. Raises PlanningError."""
    with changing(sequence, seen) as held:
        drafts = [plan for plan in held.plans if plan.goes_out_at is None]
        if not drafts:
            raise PlanningError(_("Every day is set already, so there is no draft to throw away."))
        tasks = [task for task in held.tasks() if task.day_plan.goes_out_at is None]
        held.sequence.thrown_away = [_kept(plan, tasks) for plan in drafts]
        Task.objects.filter(pk__in=[task.pk for task in tasks]).delete()
        for plan in drafts:
            plan.sequence, plan.focus, plan.note = None, "", ""
        held.touch(*drafts)
    return len(drafts)


def _kept(plan: DayPlan, tasks: list[Task]) -> dict[str, Any]:
    """Return a day as values that JSON can hold."""
    return {
        "date": plan.date.isoformat(),
        "focus": plan.focus,
        "note": plan.note,
        "parts": [whole(task) for task in tasks if task.day_plan is plan],
    }


def bring_back(sequence: Sequence, seen: Seen) -> list[dt.date]:
    """Undo throwing away, when that was the last change. Raises PlanningError.

    Days that somebody has planned since stay as they are; gives those.
    """
    with changing(sequence, seen) as held:
        kept = Sequence.objects.get(pk=sequence.pk).thrown_away
        if not kept:
            raise PlanningError(_("There is nothing to bring back."))
        days = {dt.date.fromisoformat(each["date"]): each for each in kept}
        plans = DayPlan.objects.select_for_update().filter(
            school_class=sequence.school_class_id, date__in=days
        )
        every = list(plans.order_by("date"))
        taken = set(
            DayPlan.objects.filter(pk__in=[plan.pk for plan in every])
            .planned()
            .values_list("pk", flat=True)
        )
        free = [plan for plan in every if plan.pk not in taken]
        _put_back(held, free, days)
    return [plan.date for plan in every if plan.pk in taken]


def _put_back(held: Held, plans: list[DayPlan], days: dict[dt.date, dict[str, Any]]) -> None:
    """Put the kept parts on these plans; versions of groups that are gone are left out."""
    groups = set(
        Group.objects.filter(school_class=held.sequence.school_class_id).values_list(
            "pk", flat=True
        )
    )
    put_whole(
        (plan, part)
        for plan in plans
        for part in days[plan.date]["parts"]
        if part["task"]["group_id"] in (None, *groups)
    )
    for plan in plans:
        plan.sequence = held.sequence
        plan.focus, plan.note = days[plan.date]["focus"], days[plan.date]["note"]
    held.plans = sorted({*held.plans, *plans}, key=lambda plan: plan.date)
    held.touch(*plans)

"""What the pages and actions of planning share: getting a plan by right, and coming back to it."""

import datetime as dt
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from typing import Any

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from portal.people.models import Group, SchoolClass
from tasks.models import DayPlan, Task
from tasks.plans.planning import PlanningError, Seen


def class_taught(request: HttpRequest, class_pk: int) -> SchoolClass:
    """Return a class whose work the reader sees. Raises Http404."""
    taught = SchoolClass.objects.taught_by(request.user).select_related("year__school")
    return get_object_or_404(taught, pk=class_pk)


def class_run(request: HttpRequest, class_pk: int) -> SchoolClass:
    """Return a class that the reader plans for. Raises Http404."""
    run = SchoolClass.objects.run_by(request.user).select_related("year__school")
    return get_object_or_404(run, pk=class_pk)


def plan_run(request: HttpRequest, class_pk: int, date: dt.date) -> DayPlan:
    """Return the plan of a class that the reader plans for. Raises Http404."""
    return plan_of(class_run(request, class_pk), date)


def plan_of(school_class: SchoolClass, date: dt.date) -> DayPlan:
    """Return the plan for *date*; where there is none yet, an unsaved one of version 0."""
    try:
        plan = school_class.day_plans.select_related("changed_by", "sequence").get(date=date)
    except DayPlan.DoesNotExist:
        plan = DayPlan(date=date, version=0)
    plan.school_class = school_class
    return plan


def part_of(plan: DayPlan, task_pk: int) -> Task:
    """Return a part of *plan*. Raises PlanningError when somebody has removed it."""
    task = plan.tasks.select_related("group").filter(pk=task_pk).first() if plan.pk else None
    if task is None:
        raise PlanningError(_("That part is no longer on the plan. Here is the plan as it is."))
    task.day_plan = plan
    return task


def group_asked(request: HttpRequest, plan: DayPlan) -> tuple[QuerySet[Group], Group | None]:
    """Return the groups with a version of *plan* of their own, and the one of ?group=, if any.

    Raises Http404 for a group that has none.
    """
    groups = plan.school_class.groups.filter(tasks__day_plan=plan).distinct()
    chosen = request.GET.get("group", "")
    return groups, get_object_or_404(groups, pk=int(chosen)) if chosen.isdecimal() else None


def seen_by(request: HttpRequest) -> Seen:
    """Read off the address which version of the plan its page was drawn from.

    An address that does not say is told like one that is out of date: it counts as -1.
    """
    version = request.GET.get("version", "")
    return Seen(int(version) if version.isdecimal() else -1, request.user)


def day_address(plan: DayPlan, task: Task | None = None) -> str:
    """Return the address of the page of *plan*, at the part *task*."""
    address = reverse("tasks:plan-day", args=[plan.school_class_id, plan.date])
    return f"{address}#part-{task.pk}" if task else address


@contextmanager
def telling(request: HttpRequest) -> Iterator[None]:
    """Turn a refusal to do what is asked into a message on the next page."""
    try:
        yield
    except PlanningError as refusal:
        messages.warning(request, str(refusal))


def day_action(do: Callable[[HttpRequest, DayPlan, Seen], None]) -> Callable[..., HttpResponse]:
    """Make a view of an action on a whole day: POST, then back to the day."""

    @require_POST
    @wraps(do)
    def view(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
        plan = plan_run(request, class_pk, date)
        with telling(request):
            do(request, plan, seen_by(request))
        return redirect(day_address(plan))

    return view


def part_action(do: Callable[..., None]) -> Callable[..., HttpResponse]:
    """Make a view of an action on one part: POST, then back to the part on its day."""

    @require_POST
    @wraps(do)
    def view(
        request: HttpRequest, class_pk: int, date: dt.date, task_pk: int, **more: Any
    ) -> HttpResponse:
        plan = plan_run(request, class_pk, date)
        with telling(request):
            do(request, part_of(plan, task_pk), seen_by(request), **more)
        return redirect(f"{day_address(plan)}#part-{task_pk}")

    return view


def part_page(ask: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Make a view that asks something about one part; back to the day if the part is gone."""

    @require_http_methods(["GET", "HEAD", "POST"])
    @wraps(ask)
    def view(request: HttpRequest, class_pk: int, date: dt.date, task_pk: int) -> HttpResponse:
        plan = plan_run(request, class_pk, date)
        with telling(request):
            return ask(request, part_of(plan, task_pk))
        return redirect(day_address(plan))

    return view

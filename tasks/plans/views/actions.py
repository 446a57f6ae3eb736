"""Actions on a whole day: draft it, name its focus, set it, take it back, put a part back."""

import datetime as dt

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from tasks.models import DayPlan
from tasks.numberwork import KINDS
from tasks.plans import planning, setting
from tasks.plans.defaults import same_parts_as, usual_day
from tasks.plans.forms.planning import ArrangeForm, DayForm, KindForm, SetForm
from tasks.plans.next_step import next_day, offer_after
from tasks.plans.planning import PlanningError, Seen
from tasks.plans.views.pages import day_page
from tasks.plans.views.plans import day_action, day_address, plan_run, seen_by, telling


@require_POST
def draft_around(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Draft the usual parts of a day around one kind of number work."""
    plan = plan_run(request, class_pk, date)
    form = KindForm(request.POST)
    if not form.is_valid():
        return day_page(request, plan, draft_form=form)
    kind, within = form.cleaned_data["kind"], form.cleaned_data["within"]
    with telling(request):
        focus = plan.focus or KINDS[kind].title
        planning.draft_day(plan, usual_day(kind, within), seen_by(request), focus)
    return redirect(day_address(plan))


@day_action
def draft_like(request: HttpRequest, plan: DayPlan, seen: Seen) -> None:
    """Draft the parts of the last plan before this day, with new prompts."""
    model = plan.school_class.day_plans.with_parts_before(plan.date).first()
    if model is None:
        raise PlanningError(_("There is no day before this one to draft it from."))
    planning.draft_day(plan, same_parts_as(model), seen, plan.focus or model.focus)


@day_action
def step_on(request: HttpRequest, plan: DayPlan, seen: Seen) -> None:
    """Draft a day one step on from the last plan before it."""
    model = plan.school_class.day_plans.with_parts_before(plan.date).first()
    offer = offer_after(model) if model else None
    if offer is None or offer.step is None:
        raise PlanningError(_("There is no day before this one to go one step on from."))
    choices, versions = next_day(plan.school_class, offer, plan.date)
    planning.draft_day(plan, choices, seen, plan.focus or offer.title, versions)


@require_POST
def reword_day(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Name the focus of a day and say a word to families."""
    plan = plan_run(request, class_pk, date)
    form = DayForm(request.POST)
    if not form.is_valid():
        return day_page(request, plan, day_form=form)
    with telling(request):
        setting.reword_day(plan, **form.cleaned_data, seen=seen_by(request))
        messages.success(request, _("Your words are saved."))
    return redirect(day_address(plan))


@require_POST
def arrange_day(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Say which part of a day is the main one, in which order they come, and how long at most."""
    plan = plan_run(request, class_pk, date)
    form = ArrangeForm(request.POST, plan=plan)
    if not form.is_valid():
        return day_page(request, plan, arrange_form=form)
    order, most_minutes = form.cleaned_data["order"], form.cleaned_data["most_minutes"]
    with telling(request):
        setting.arrange_day(plan, order, most_minutes, seen_by(request))
        messages.success(request, _("The order and the length are saved."))
    return redirect(day_address(plan))


@require_POST
def set_day(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Set the work of a day, now or for a time to come."""
    plan = plan_run(request, class_pk, date)
    form = SetForm(request.POST, plan=plan, zone=plan.school_class.school.zone)
    if not form.is_valid():
        return day_page(request, plan, set_form=form)
    at = form.cleaned_data["at"]
    with telling(request):
        setting.set_day(plan, seen_by(request), at)
        messages.success(request, said_when(plan, at, form.today))
    return redirect(day_address(plan))


def said_when(plan: DayPlan, at: dt.datetime | None, today: dt.date) -> str:
    """Say when families get to see a plan that has just been set."""
    if at:
        local = timezone.localtime(at, plan.school_class.school.zone)
        return _("Set. Families see it from %(when)s.") % {"when": date_format(local, "l j F, H:i")}
    if plan.date < today:
        return _("Set. The day has gone by: families find it under the days before.")
    return _("Set. Families can see it now.")


@day_action
def take_back(request: HttpRequest, plan: DayPlan, seen: Seen) -> None:
    """Make a plan that was set a draft again."""
    setting.take_back(plan, seen)
    messages.success(request, _("Taken back. Families do not see this day now."))


@day_action
def put_back(request: HttpRequest, plan: DayPlan, seen: Seen) -> None:
    """Undo the removal of a part."""
    planning.put_back(plan, seen)

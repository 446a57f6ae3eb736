"""The pages of planning: a week, a day, and the day as a family reads it."""

import datetime as dt
from collections.abc import Collection
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from portal.people.models import SchoolClass
from tasks.cards.card import make_card
from tasks.days import SCHOOL_DAYS, monday_named, monday_of, week_name
from tasks.models import DayPlan, Sequence
from tasks.plans.forms.planning import ArrangeForm, DayForm, KindForm, SetForm
from tasks.plans.next_step import offer_after
from tasks.plans.planned import planned_parts
from tasks.plans.views.plans import class_taught, group_asked, plan_of
from tasks.week import Day, closures, week_of

WEEK = dt.timedelta(days=7)
# The app above this one puts in here what families answer on.
WALK = ("slots/preview_walk.html", "components/nothing.html")
LONGEST_BREAK = dt.timedelta(days=70)  # the summer's


@require_safe
def plan_week(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show the week of a class at a glance."""
    school_class = class_taught(request, class_pk)
    week = request.GET.get("week")
    try:
        monday = monday_named(week) if week else monday_of(school_class.school.today())
    except ValueError:
        raise Http404 from None
    context: dict[str, Any] = {
        "before": week_name(monday - WEEK),
        "this_week": week_name(school_class.school.today()),
        "week": week_name(monday),
        "after": week_name(monday + WEEK),
    }
    days = week_of(school_class, monday)
    context |= {
        "school_class": school_class,
        "days": days,
        "sequences": sequences_in(school_class, days),
        "may_change": may_plan(request, school_class),
    }
    return render(request, "plans/plan_week.html", context)


def sequences_in(school_class: SchoolClass, days: list[Day]) -> list[Sequence]:
    """Return the sequences of a class that have days in this week, first ones first."""
    shown = school_class.sequences.with_days()
    return list(shown.filter(first__lte=days[-1].date, last__gte=days[0].date).order_by("first"))


def may_plan(request: HttpRequest, school_class: SchoolClass) -> bool:
    """Whether the reader plans for the class."""
    return SchoolClass.objects.run_by(request.user).filter(pk=school_class.pk).exists()


@require_safe
def plan_day(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Show the plan of a day to those who teach the class; its buttons to those who plan."""
    plan = plan_of(class_taught(request, class_pk), date)
    return day_page(request, plan)


def day_page(request: HttpRequest, plan: DayPlan, **forms: Any) -> HttpResponse:
    """Draw the page of a day. forms: those that came back with errors, by their names there."""
    school_class, date = plan.school_class, plan.date
    parts = planned_parts(plan)
    earlier = school_class.day_plans.with_parts_before(date).select_related("sequence").first()
    closed = closures(school_class, date - LONGEST_BREAK, date + LONGEST_BREAK)
    tasks = [each.task for each in parts]
    context = {
        "plan": plan,
        "school_class": school_class,
        "day": Day(date, plan, tasks, closed.get(date, ""), school_class.school.today()),
        "parts": parts,
        "may_change": may_plan(request, school_class),
        "has_work": bool(plan.pk) and plan.has_work,
        "earlier": earlier,
        "offer": offer_after(earlier) if earlier and not parts else None,
        "day_before": next_school_day(date, -1, closed),
        "day_after": next_school_day(date, 1, closed),
        "week": week_name(date),
        "draft_form": KindForm(),
        "day_form": DayForm(instance=plan),
        "arrange_form": ArrangeForm(plan=plan),
        "set_form": SetForm(plan=plan, zone=school_class.school.zone),
        **forms,
    }
    return render(request, "plans/plan_day.html", context)


def next_school_day(date: dt.date, step: int, closed: Collection[dt.date]) -> dt.date:
    """Return the nearest school day after *date* (step 1) or before it (step -1)."""
    date += dt.timedelta(days=step)
    while date.weekday() >= SCHOOL_DAYS or date in closed:
        date += dt.timedelta(days=step)
    return date


@require_safe
def plan_preview(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Show the day screen by screen as a family walks through it, and whole, folded away.

    As one of the class sees it, or with ?group= one of a group.
    """
    school_class = class_taught(request, class_pk)
    plan = get_object_or_404(school_class.day_plans, date=date)
    groups, group = group_asked(request, plan)
    tasks = list(plan.tasks.for_group(group).prefetch_related("prompts"))
    context = {
        "plan": plan,
        "tasks": tasks,
        "card": make_card(plan, tasks),
        "groups": groups,
        "group": group,
        "places": [],
        "walk": WALK,
    }
    return render(request, "plans/plan_preview.html", context)

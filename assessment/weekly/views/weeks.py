"""The pages of the week: a class's for its staff, a family's own."""

import datetime as dt

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from assessment.class_access import class_taught
from assessment.insight.weeks import Week, week_to_open
from assessment.models import WeekSummary
from assessment.progress.forms.progress import SizeForm
from assessment.progress.gaps import evidence_of_class
from assessment.progress.groups import Suggested, suggest
from assessment.weekly.class_week import class_week
from assessment.weekly.family_week import family_weeks
from assessment.weekly.mails import STOP
from assessment.weekly.summaries import closures_of
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Child, Home, School, SchoolClass


@require_safe
def class_this_week(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Go to the week that the staff of a class come to read: on Monday morning, the one before."""
    school_class = class_taught(request, class_pk)
    return redirect("assessment:class-week", class_pk, opening_week(school_class.school))


def opening_week(school: School) -> Week:
    """Return the week to open on, on the school's day and by its clock."""
    clock = timezone.now().astimezone(school.zone).timetz()
    now = dt.datetime.combine(school.today(), clock)
    return week_to_open(now, school.zone, closures_of(school), school.summary_hour)


@require_safe
def class_week_page(request: HttpRequest, class_pk: int, week: Week) -> HttpResponse:
    """Show a week of a class: who sent, who did not, goals seen, mistakes suggested."""
    school_class = class_taught(request, class_pk)
    children = Child.objects.taught_by(request.user).filter(school_class=school_class)
    rolled_up = WeekSummary.objects.visible_to(request.user).filter(
        audience=WeekSummary.Audience.STAFF, school_class=school_class, week=week.monday
    )
    context = {
        "school_class": school_class,
        "whole": class_week(school_class, children, week),
        "rolled_up": rolled_up.first(),
        "runs": SchoolClass.objects.run_by(request.user).filter(pk=class_pk).exists(),
        "suggested": suggested_now(request, school_class, week),
        **around(week, Week.of(school_class.school.today())),
    }
    return render(request, "weekly/class_week.html", context)


def suggested_now(request: HttpRequest, school_class: SchoolClass, week: Week) -> list[Suggested]:
    """Return the groups suggested for next week, on the page of the week that opens."""
    if week != opening_week(school_class.school):
        return []
    return suggest(evidence_of_class(school_class, request.user), SizeForm.USUAL)


@require_safe
def this_week(request: HttpRequest) -> HttpResponse:
    """Go to the week it is for a family."""
    child = own_children(request).select_related("school").first()
    if child is None:
        raise Http404
    return redirect("assessment:week", Week.of(child.school.today()))


@require_safe
def family_week_page(request: HttpRequest, week: Week) -> HttpResponse:
    """Show a week of every child one is at home with."""
    return family_page(request, own_children(request), week)


@require_safe
def child_week_page(request: HttpRequest, child_pk: int, week: Week) -> HttpResponse:
    """Show a week of one child one is at home with."""
    return family_page(request, own_children(request).filter(pk=child_pk), week)


def family_page(request: HttpRequest, children: ChildQuerySet, week: Week) -> HttpResponse:
    """Draw a family's week, or answer 404 where there is no child to tell of."""
    known = list(children.select_related("school"))
    if not known:
        raise Http404
    homes = Home.objects.filter(
        guardianships__in=request.user.guardianships.current().filter(child__in=known)
    ).distinct()
    now = Week.of(known[0].school.today())
    context = {
        "weeks": family_weeks(
            known,
            Submission.objects.from_home_of(request.user),
            week,
            Nonsubmission.objects.from_home_of(request.user),
        ),
        "homes": [(home, STOP.token(home.pk)) for home in homes],
        **around(week, now, now.shifted(1)),
    }
    return render(request, "weekly/family_week.html", context)


def own_children(request: HttpRequest) -> ChildQuerySet:
    """Return the children whom the reader is at home with."""
    return Child.objects.at_home_with(request.user)


def around(week: Week, now: Week, to: Week | None = None) -> dict[str, object]:
    """Return *week* with those beside it; none after the week it is *now*, or *to* if given."""
    return {
        "week": week,
        "before": week.shifted(-1),
        "after": week.shifted(1) if week < (to or now) else None,
        "is_now": week == now,
    }

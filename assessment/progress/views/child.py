"""The pages of seeing one child: what it showed and sent, and the work under one goal."""

import datetime as dt

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from assessment.class_access import child_taught
from assessment.day_parts import groups_of, parts_for
from assessment.insight.strength import Strength
from assessment.models import Goal
from assessment.progress.child_page import story_of
from assessment.progress.child_work import evidence_of, with_kinds, work_of
from assessment.progress.evidence_strength import weighed
from assessment.progress.wording import found_words, missing_words

PAGE_SIZE = 12


@require_safe
def child_page(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Show a child: goals and what is missing, mistakes, what to try next, and all work by date."""
    child = child_taught(request, child_pk)
    page = Paginator(work_of(child, request.user), PAGE_SIZE).get_page(request.GET.get("page"))
    groups = groups_of([child])[child.pk]
    work = [(each, parts_for(each.day_plan, groups)) for each in page.object_list]
    context = {"child": child, "page": page, "work": work, "story": story_of(child)}
    return render(request, "progress/child.html", context)


@require_safe
def evidence(request: HttpRequest, child_pk: int, goal_pk: int) -> HttpResponse:
    """Show every piece of a child's work that is tagged with one goal."""
    child = child_taught(request, child_pk)
    goal = get_object_or_404(Goal.objects.for_school(child.school_id), pk=goal_pk)
    tags = evidence_of(child, goal, request.user, month_asked(request))
    page = Paginator(tags, PAGE_SIZE).get_page(request.GET.get("page"))
    weight = weighed([child], child.school_class.school.today()).get((child.pk, goal.pk))
    found = weight or Strength()
    context = {
        "child": child,
        "goal": goal,
        "page": page,
        "tags": with_kinds(page.object_list, child, goal),
        "facts": found_words(found),
        "missing": missing_words(found.missing),
    }
    return render(request, "progress/evidence.html", context)


def month_asked(request: HttpRequest) -> dt.date | None:
    """Return the first day of the month that ?month= asks for; None for none, or for nonsense."""
    try:
        return dt.date.fromisoformat(f"{request.GET.get('month', '')}-01")
    except ValueError:
        return None

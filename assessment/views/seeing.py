"""The pages of seeing: one child, one goal of a child, a class by its goals."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from assessment.day_parts import groups_of, parts_for
from assessment.exports import csv_answer, grid_rows
from assessment.models import Goal
from assessment.progress import class_grid, evidence_of, goals_of, work_of
from portal.people.models import Child, SchoolClass

PAGE_SIZE = 12


@require_safe
def child_page(request: HttpRequest, child_pk: int) -> HttpResponse:
    """Show a child's work by date, and the tags by goal."""
    child = child_of(request, child_pk)
    page = Paginator(work_of(child, request.user), PAGE_SIZE).get_page(request.GET.get("page"))
    groups = groups_of([child])[child.pk]
    work = [(each, parts_for(each.day_plan, groups)) for each in page.object_list]
    context = {"child": child, "page": page, "work": work, "goals": goals_of(child)}
    return render(request, "assessment/child.html", context)


@require_safe
def evidence(request: HttpRequest, child_pk: int, goal_pk: int) -> HttpResponse:
    """Show every piece of a child's work that is tagged with one goal."""
    child = child_of(request, child_pk)
    goal = get_object_or_404(Goal.objects.for_school(child.school_id), pk=goal_pk)
    tags = evidence_of(child, goal, request.user)
    page = Paginator(tags, PAGE_SIZE).get_page(request.GET.get("page"))
    context = {"child": child, "goal": goal, "page": page}
    return render(request, "assessment/evidence.html", context)


@require_safe
def goals(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show a class by its goals."""
    school_class = get_object_or_404(SchoolClass.objects.taught_by(request.user), pk=class_pk)
    context = {"school_class": school_class, "grid": class_grid(school_class, request.user)}
    return render(request, "assessment/goals.html", context)


@require_safe
def goals_csv(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Give the class by its goals as a table to take away."""
    school_class = get_object_or_404(SchoolClass.objects.taught_by(request.user), pk=class_pk)
    grid = class_grid(school_class, request.user)
    name = slugify(school_class.name) or "class"
    return csv_answer(f"goals-{name}.csv", grid_rows(grid, _("Child")))


def child_of(request: HttpRequest, child_pk: int) -> Child:
    """Give a child that the reader teaches, or answer 404."""
    taught = Child.objects.taught_by(request.user).select_related("school_class__year__school")
    return get_object_or_404(taught, pk=child_pk)

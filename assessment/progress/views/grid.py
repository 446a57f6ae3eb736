"""The pages of a class by its goals: all of them as a grid, and one goal across the class."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from assessment.class_access import class_taught, file_name, given
from assessment.goals.goal_sets import framework_of
from assessment.models import Goal
from assessment.progress.forms.progress import GridForm
from assessment.progress.goal_page import goal_over_class
from assessment.progress.pictures.grid import Wanted, class_grid
from assessment.progress.pictures.tags_table import tags_table
from portal.people.models import SchoolClass


@require_safe
def goals(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show a class by its goals."""
    school_class = class_taught(request, class_pk)
    form = GridForm(request.GET)
    context = {
        "school_class": school_class,
        "form": form,
        "grid": class_grid(school_class, request.user, form.wanted),
        "is_narrowed": form.wanted != Wanted(),
    }
    return render(request, "progress/grid.html", context)


@require_safe
def goals_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return what the class by its goals shows, as it is asked for, as a table to take away."""
    school_class = class_taught(request, class_pk)
    goals = list(framework_of(school_class).goals.in_use())
    name, wanted = file_name("goals", school_class), GridForm(request.GET).wanted
    table = tags_table(name, school_class, request.user, goals, wanted)
    return given(request, table, sheet, school_class)


@require_safe
def goal(request: HttpRequest, class_pk: int, goal_pk: int) -> HttpResponse:
    """Show how each child of a class has shown one goal, and what is missing."""
    school_class = class_taught(request, class_pk)
    asked = goal_of(school_class, goal_pk)
    children = goal_over_class(school_class, asked, request.user)
    context = {"school_class": school_class, "goal": asked, "children": children}
    return render(request, "progress/goal.html", context)


@require_safe
def goal_taken(request: HttpRequest, class_pk: int, goal_pk: int, sheet: str) -> HttpResponse:
    """Return one goal across a class as a table to take away."""
    school_class = class_taught(request, class_pk)
    goals, name = [goal_of(school_class, goal_pk)], file_name(f"goal-{goal_pk}", school_class)
    table = tags_table(name, school_class, request.user, goals, Wanted())
    return given(request, table, sheet, school_class)


def goal_of(school_class: SchoolClass, goal_pk: int) -> Goal:
    """Return a goal that the school of *school_class* may know, or answer 404."""
    known = Goal.objects.for_school(school_class.school.pk)
    return get_object_or_404(known, pk=goal_pk)

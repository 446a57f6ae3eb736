"""The pages of a class by its goals: all of them as a grid, and one goal across the class."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from assessment.class_access import class_taught, file_name, given
from assessment.models import Goal
from assessment.progress.forms.progress import GridForm
from assessment.progress.goal_page import chart_of, goal_over_class, goal_table
from assessment.progress.grid import Wanted, class_grid, grid_table
from assessment.progress.wording import MEANINGS, WORDS
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
        "meanings": [(WORDS[word], MEANINGS[word]) for word in WORDS],
        "query": request.GET.urlencode(),
    }
    return render(request, "progress/grid.html", context)


@require_safe
def goals_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return the class by its goals, as it is asked for, as a table to take away."""
    school_class = class_taught(request, class_pk)
    grid = class_grid(school_class, request.user, GridForm(request.GET).wanted)
    table = grid_table(grid, file_name("goals", school_class), _("Child"))
    return given(request, table, sheet, school_class)


@require_safe
def goal(request: HttpRequest, class_pk: int, goal_pk: int) -> HttpResponse:
    """Show who of a class has shown one goal, who has not yet, and what is missing."""
    school_class = class_taught(request, class_pk)
    asked = goal_of(school_class, goal_pk)
    groups = goal_over_class(school_class, asked, request.user)
    context: dict[str, Any] = {
        "school_class": school_class,
        "goal": asked,
        "groups": groups,
        "chart": chart_of(asked, groups),
    }
    return render(request, "progress/goal.html", context)


@require_safe
def goal_taken(request: HttpRequest, class_pk: int, goal_pk: int, sheet: str) -> HttpResponse:
    """Return one goal across a class as a table to take away."""
    school_class = class_taught(request, class_pk)
    groups = goal_over_class(school_class, goal_of(school_class, goal_pk), request.user)
    headings = [_("Child"), _("Evidence"), _("Pieces"), _("Shown the last time"), _("On")]
    headings.append(_("Missing"))
    table = goal_table(file_name(f"goal-{goal_pk}", school_class), headings, groups)
    return given(request, table, sheet, school_class)


def goal_of(school_class: SchoolClass, goal_pk: int) -> Goal:
    """Return a goal that the school of *school_class* may know, or answer 404."""
    known = Goal.objects.for_school(school_class.school.pk)
    return get_object_or_404(known, pk=goal_pk)

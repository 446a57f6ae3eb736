"""The page that stands before the whole class."""

import datetime as dt

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from tasks.lessons.in_class import questions_of
from tasks.plans.views.plans import class_taught, group_asked


@require_safe
def in_class(request: HttpRequest, class_pk: int, date: dt.date) -> HttpResponse:
    """Show the questions of a day, one at a time: the class's own, or with ?group= a group's."""
    school_class = class_taught(request, class_pk)
    plan = get_object_or_404(school_class.day_plans, date=date)
    groups, group = group_asked(request, plan)
    context = {
        "plan": plan,
        "school_class": school_class,
        "questions": questions_of(plan.tasks.for_group(group).prefetch_related("prompts")),
        "groups": groups,
        "group": group,
    }
    return render(request, "lessons/in_class.html", context)

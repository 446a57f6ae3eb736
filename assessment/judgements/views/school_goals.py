"""The lead's page of when which goal was looked at, class by class."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from assessment.judgements.school_goals import school_goals
from assessment.judgements.views.lead_overview import school_led


@require_safe
def school_goals_page(request: HttpRequest) -> HttpResponse:
    """Show over the classes of a school in which months each goal was looked at."""
    context = {"sets": school_goals(school_led(request), request.user)}
    return render(request, "judgements/school_goals.html", context)

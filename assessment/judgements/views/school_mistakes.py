"""The lead's page of how common each mistake is in the school."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from assessment.judgements.school_mistakes import school_mistakes
from assessment.judgements.views.lead_overview import school_led
from tasks.numberwork.mistakes.shares import STRENGTH


@require_safe
def school_mistakes_page(request: HttpRequest) -> HttpResponse:
    """Show by kind of work what was assumed of mistakes, what was found, and how sure that is."""
    context = {"kinds": school_mistakes(school_led(request)), "strength": STRENGTH}
    return render(request, "judgements/school_mistakes.html", context)

"""The lead's page of a school's week."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from assessment.class_access import given
from assessment.insight.weeks import Week
from assessment.judgements.views.lead_overview import school_led
from assessment.spreadsheets import Table
from assessment.weekly.school_week import school_rows, school_week
from assessment.weekly.views.weeks import around


@require_safe
def school_this_week(request: HttpRequest) -> HttpResponse:
    """Go to the week it is for a school."""
    return redirect("assessment:school-week", Week.of(school_led(request).today()))


@require_safe
def school_week_page(request: HttpRequest, week: Week) -> HttpResponse:
    """Show the week of all classes of a school, as it was summed up."""
    school = school_led(request)
    context = {"whole": school_week(school, week), **around(week, Week.of(school.today()))}
    return render(request, "weekly/school_week.html", context)


@require_safe
def school_week_taken(request: HttpRequest, week: Week, sheet: str) -> HttpResponse:
    """Return the classes of a school's week as a table to take away."""
    school = school_led(request)
    headings = [
        *(_("Class"), _("Children"), _("Heard from"), _("Days set"), _("Pieces")),
        _("Not heard from"),
    ]
    table = Table(f"week-{week}", headings, school_rows(school_week(school, week)))
    return given(request, table, sheet, school)

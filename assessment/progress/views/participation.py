"""The page of taking part, day by day."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from assessment.class_access import class_taught, file_name, given
from assessment.progress.participation import chart_of, days_table, weeks_of
from assessment.templatetags.progress import PARTS


@require_safe
def taking_part(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show what became of each day's work in a class, week by week."""
    school_class = class_taught(request, class_pk)
    weeks = weeks_of(school_class, request.user)
    chart = chart_of(_("What became of each day's work, in children"), weeks)
    context = {"school_class": school_class, "weeks": weeks[::-1], "chart": chart}
    return render(request, "progress/participation.html", context)


@require_safe
def taking_part_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return the weeks as a table to take away."""
    school_class = class_taught(request, class_pk)
    headings = [_("Week"), _("Day"), *PARTS.values()]
    weeks = weeks_of(school_class, request.user)
    table = days_table(file_name("taking-part", school_class), headings, weeks)
    return given(request, table, sheet, school_class)

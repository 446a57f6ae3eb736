"""The page of taking part over the weeks."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from assessment.class_access import class_taught, file_name, given
from assessment.progress.participation import chart_of, weeks_of, weeks_table


@require_safe
def taking_part(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Show from how many children of a class something came, week by week."""
    school_class = class_taught(request, class_pk)
    weeks = weeks_of(school_class, request.user)
    chart = chart_of(_("Children who sent something, week by week"), weeks)
    context = {"school_class": school_class, "weeks": weeks, "chart": chart}
    return render(request, "progress/participation.html", context)


@require_safe
def taking_part_taken(request: HttpRequest, class_pk: int, sheet: str) -> HttpResponse:
    """Return the weeks as a table to take away."""
    school_class = class_taught(request, class_pk)
    headings = [
        *(_("Week"), _("From"), _("Days set"), _("Children heard from"), _("Children in the class"))
    ]
    weeks = weeks_of(school_class, request.user)
    table = weeks_table(file_name("taking-part", school_class), headings, weeks)
    return given(request, table, sheet, school_class)

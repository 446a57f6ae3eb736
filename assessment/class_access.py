"""What the pages of seeing and judging share: getting a class or child by right, and tables."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.text import slugify

from assessment.spreadsheets import Table, take_away
from portal.people.audit.log import record
from portal.people.models import Child, Event, School, SchoolClass


def class_taught(request: HttpRequest, class_pk: int) -> SchoolClass:
    """Return a class whose work the reader sees, or answer 404."""
    taught = SchoolClass.objects.taught_by(request.user).select_related("year__school")
    return get_object_or_404(taught, pk=class_pk)


def class_run(request: HttpRequest, class_pk: int) -> SchoolClass:
    """Return a class that the reader plans and judges for, or answer 404."""
    run = SchoolClass.objects.run_by(request.user).select_related("year__school")
    return get_object_or_404(run, pk=class_pk)


def child_taught(request: HttpRequest, child_pk: int) -> Child:
    """Return a child that the reader teaches, or answer 404."""
    taught = Child.objects.taught_by(request.user).select_related("school_class__year__school")
    return get_object_or_404(taught, pk=child_pk)


def file_name(what: str, school_class: SchoolClass) -> str:
    """Name a file by what is in it and the class; never by a child."""
    return f"{what}-{slugify(school_class.name) or 'class'}"


def given(
    request: HttpRequest, table: Table, form: str, about: SchoolClass | School
) -> HttpResponse:
    """Return *table* to take away, and write down that children's data left the portal."""
    record(request, Event.What.EXPORTED, about)
    return take_away(table, form)

"""Giving groups their own main task on days that were drafted before, and taking it back."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from portal.people.models import SchoolClass
from tasks.models import Sequence
from tasks.plans.views.plans import class_run, telling
from tasks.sequences import group_versions
from tasks.sequences.views.pages import sequence_address


@require_POST
def fill_in(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Draw what groups wait for on drafted days; with ?sequence= on those of one."""
    school_class = class_run(request, class_pk)
    sequence = sequence_asked(request, school_class)
    with telling(request):
        group_versions.fill_in(school_class, request.user, sequence)
    return came_from(school_class, sequence)


@require_POST
def undo(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Take back what was drawn for groups last."""
    school_class = class_run(request, class_pk)
    sequence = sequence_asked(request, school_class)
    with telling(request):
        days = group_versions.undo(school_class, request.user)
        said = ngettext(
            "%(days)s day is as it was before.", "%(days)s days are as they were before.", days
        )
        messages.success(request, said % {"days": days})
    return came_from(school_class, sequence)


def sequence_asked(request: HttpRequest, school_class: SchoolClass) -> Sequence | None:
    """Return the sequence whose page was left, if it was one. Raises Http404."""
    asked = request.GET.get("sequence", "")
    if not asked:
        return None
    return get_object_or_404(school_class.sequences, pk=int(asked) if asked.isdecimal() else 0)


def came_from(school_class: SchoolClass, sequence: Sequence | None) -> HttpResponse:
    """Go back to the page of the sequence, or of the groups."""
    if sequence:
        return redirect(sequence_address(sequence))
    return redirect("tasks:groups", school_class.pk)

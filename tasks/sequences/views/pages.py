"""The pages of planning several days: asking what for, and the days as they will be."""

from typing import Any

from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from portal.people.models import SchoolClass
from tasks.days import week_name
from tasks.models import Sequence
from tasks.numberwork import ROUTES
from tasks.plans.history import kinds_met
from tasks.plans.planning import PlanningError
from tasks.plans.views.pages import may_plan
from tasks.plans.views.plans import class_run
from tasks.sequences import drafting
from tasks.sequences.forms import FirstDayForm, SequenceForm, SetAllForm
from tasks.sequences.layout import LaidDay, closed_all_week, laid_out
from tasks.sequences.school_days import next_free_day
from tasks.sequences.slots import Place

PARTS = "parts"  # asked of the page: whether all parts are unfolded
SHOWN = 12  # earlier sequences to copy from


@require_http_methods(["GET", "HEAD", "POST"])
def new_sequence(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Ask what several days are to be about, and draft them; with ?copy= like an earlier one."""
    school_class = class_run(request, class_pk)
    if copied := request.GET.get("copy"):
        earlier = Sequence.objects.of_school(school_class.school).with_days()
        source = get_object_or_404(earlier, pk=int(copied) if copied.isdecimal() else 0)
        return copy_page(request, school_class, source)
    met = list(kinds_met(school_class, school_class.school.today()))
    first = request.GET.get("first") or next_free_day(school_class)
    focus = request.GET.get("focus", "")
    initial = {"focus": focus, "first": first, "known": met}
    form = SequenceForm(request.POST or None, school_class=school_class, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            sequence = drafting.draft(school_class, form.order(met), request.user)
        except PlanningError as refusal:
            form.add_error("first", str(refusal))
        else:
            return redirect(sequence_address(sequence))
    context = {
        "school_class": school_class,
        "form": form,
        "met": met,
        "earlier": earlier_sequences(school_class, focus),
    }
    return render(request, "sequences/new.html", context)


def earlier_sequences(school_class: SchoolClass, focus: str) -> list[Sequence]:
    """Return the latest sequences of the school, of one focus if that is known, to copy from."""
    earlier = Sequence.objects.of_school(school_class.school).with_days()
    if focus in ROUTES:
        earlier = earlier.filter(focus=focus)
    return list(
        earlier.select_related("school_class__year").annotate(days=Count("day_plans"))[:SHOWN]
    )


def copy_page(request: HttpRequest, school_class: SchoolClass, source: Sequence) -> HttpResponse:
    """Ask when the copy of *source* begins, and draft it."""
    initial = {"first": next_free_day(school_class)}
    form = FirstDayForm(request.POST or None, school_class=school_class, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            sequence = drafting.copy(source, school_class, form.cleaned_data["first"], request.user)
        except PlanningError as refusal:
            form.add_error("first", str(refusal))
        else:
            return redirect(sequence_address(sequence))
    context = {
        "school_class": school_class,
        "form": form,
        "source": source,
        "days": source.day_plans.planned().count(),
    }
    return render(request, "sequences/copy.html", context)


def sequence_address(sequence: Sequence, *, parts: bool = False) -> str:
    """Return the address of the page of *sequence*; with all *parts* of its days unfolded."""
    address = reverse("tasks:sequence", args=[sequence.school_class_id, sequence.pk])
    return f"{address}?{PARTS}=open" if parts else address


@require_safe
def sequence(request: HttpRequest, class_pk: int, sequence_pk: int) -> HttpResponse:
    """Show the days of a sequence to those who teach the class; its buttons to those who plan."""
    taught = Sequence.objects.taught_by(request.user).select_related("school_class__year__school")
    found = get_object_or_404(taught, pk=sequence_pk, school_class=class_pk)
    return sequence_page(request, found)


def sequence_page(request: HttpRequest, sequence: Sequence, **forms: Any) -> HttpResponse:
    """Draw the page of a sequence: its days as small pictures, all their parts folded away.

    With ?parts= these are unfolded; with ?moving= too, with all that it could change places with.

    forms: those that came back with errors, by their names there.
    """
    school_class = sequence.school_class
    weeks = laid_out(sequence, school_class)
    days = [day for week in weeks for day in week]
    picked_up = moving(request, days)
    drafts = [day.day.date for day in days if day.is_ours and day.day.may_be_set]
    context = {
        "sequence": sequence,
        "school_class": school_class,
        "weeks": [(week, closed_all_week(week)) for week in weeks],
        "count": sum(day.is_ours for day in days),
        "drafts": drafts,
        "source": ROUTES[sequence.focus].source if sequence.focus in ROUTES else "",
        "week": week_name(sequence.first),
        "moving": picked_up,
        "moving_words": Place.read(picked_up).words if picked_up else "",
        "is_part_moving": "/" in picked_up,
        "may_change": may_plan(request, school_class),
        "is_unfolded": bool(picked_up) or PARTS in request.GET,
        "set_form": SetAllForm(dates=drafts, school=school_class.school),
        **forms,
    }
    return render(request, "sequences/sequence.html", context)


def moving(request: HttpRequest, days: list[LaidDay]) -> str:
    """Return the place that was picked up to be swapped, while it can be; else nothing."""
    wanted = request.GET.get("moving", "")
    for day in days:
        if day.may_move and wanted == day.place:
            return wanted
        if any(part.may_move and part.place == wanted for part in day.parts):
            return wanted
    return ""

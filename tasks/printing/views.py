"""Printing: what a teacher chooses for a class, and a family's card of a day, as PDF."""

import datetime as dt
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.dateparse import parse_date
from django.views.decorators.http import require_safe

from portal.people.models import Child, SchoolClass
from tasks.models import DayPlan
from tasks.plans.views.plans import class_taught
from tasks.printing import A4, PAPERS, Order, make_pdf
from tasks.printing.forms import PrintForm
from tasks.printing.of_plan import Readers, collect

AT_HOME = frozenset(("two-sides",))


@require_safe
def print_page(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Ask what to print; ?date= and ?span=week say which day or week is asked about."""
    school_class = class_taught(request, class_pk)
    form = PrintForm(school_class=school_class, initial=asked_about(request, school_class))
    return form_page(request, form)


@require_safe
def print_pdf(request: HttpRequest, class_pk: int) -> HttpResponse:
    """Return the file that the form asks for, or the form again with what to mend (422)."""
    form = PrintForm(request.GET, school_class=class_taught(request, class_pk))
    if not form.is_valid():
        return form_page(request, form, status=422)
    return pdf(form.order(), form.file_name())


@require_safe
def card_print(request: HttpRequest, child_pk: int, date: dt.date) -> HttpResponse:
    """Give a family the card of a day that went out, on A4 or with ?paper=letter on US Letter."""
    own = Child.objects.at_home_with(request.user).select_related("school_class")
    child = get_object_or_404(own.prefetch_related("groups"), pk=child_pk)
    plan = get_object_or_404(DayPlan.objects.out_for(child), date=date)
    packs = collect(Readers(child.school_class.name, (child,)), [plan])
    if not packs[0].days:
        raise Http404
    paper = PAPERS.get(request.GET.get("paper", ""), A4)
    return pdf(Order(packs, AT_HOME, date, paper), f"number-work-{date}.pdf")


def asked_about(request: HttpRequest, school_class: SchoolClass) -> dict[str, Any]:
    """Read the day, and whether its whole week, off the address; today if it does not say."""
    try:
        date = parse_date(request.GET.get("date", ""))
    except ValueError:
        date = None
    span = "week" if request.GET.get("span") == "week" else "day"
    return {"date": date or school_class.school.today(), "span": span}


def form_page(request: HttpRequest, form: PrintForm, status: int = 200) -> HttpResponse:
    """Draw the page with the form."""
    context = {"form": form, "school_class": form.school_class}
    return render(request, "printing/print.html", context, status=status)


def pdf(order: Order, name: str) -> HttpResponse:
    """Return *order* as a file to save or print; its name says nothing of any child."""
    headers = {
        "Content-Disposition": f'attachment; filename="{name}"',
        "Cache-Control": "no-store",
    }
    return HttpResponse(make_pdf(order), content_type="application/pdf", headers=headers)

"""Days without school: holidays and training days are added, listed, removed and put back."""

import datetime as dt

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from portal.people.models import Closure, School, SchoolYear
from portal.people.school.forms import ClosureForm
from portal.people.school.views.years import school_kept

REMOVED = "removed closure"  # in the session: what was removed last, so that it can come back


@require_http_methods(["GET", "HEAD", "POST"])
def closures(request: HttpRequest) -> HttpResponse:
    """List the days without school by school year, and add a day or a span."""
    school = school_kept(request)
    form = ClosureForm(request.POST or None, instance=Closure(school=school))
    if form.is_valid():
        added = form.save()
        words = _("Added: %(name)s, %(days)s. Plans, reminders and lists go round it from now on.")
        messages.success(request, words % {"name": added.name, "days": added.days})
        return redirect("people:closures")
    years = list(school.years.order_by("-starts"))
    context = {
        "form": form,
        "has_years": bool(years),
        "years": [year for year in by_year(school, years) if year[1] or year[2]],
        "removed": request.session.get(REMOVED) if "removed" in request.GET else None,
    }
    return render(request, "school/closures.html", context)


def by_year(school: School, years: list[SchoolYear]) -> list[tuple[str, list[Closure], bool]]:
    """Return each year's name and closures, and whether it goes on; last what is in none."""
    today = school.today()
    left = list(school.closures.order_by("first", "last"))
    found = []
    for year in years:
        within = [each for each in left if year.starts <= each.first <= year.ends]
        left = [each for each in left if each not in within]
        found.append((str(year), within, year.ends >= today))
    return [*found, (_("In no school year"), left, False)]


@require_POST
def remove(request: HttpRequest, closure_pk: int) -> HttpResponse:
    """Take a day or span out; the session knows it, so that this can be undone."""
    school = school_kept(request)
    found = get_object_or_404(school.closures, pk=closure_pk)
    request.session[REMOVED] = {
        "name": found.name,
        "first": found.first.isoformat(),
        "last": found.last.isoformat(),
        "days": found.days,
    }
    found.delete()
    return redirect(reverse("people:closures") + "?removed=1")


@require_POST
def put_back(request: HttpRequest) -> HttpResponse:
    """Put back what was removed last."""
    school = school_kept(request)
    if lost := request.session.pop(REMOVED, None):
        days = {end: dt.date.fromisoformat(lost[end]) for end in ("first", "last")}
        Closure.objects.get_or_create(school=school, **days, defaults={"name": lost["name"]})
        messages.success(request, _("It is back."))
    return redirect("people:closures")

"""The teacher's pages on the kinds of number work."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from portal.people.models import SchoolClass
from tasks.cards.kind_sheets import kind_sheet
from tasks.numberwork import KINDS

# The app that knows goals says here which of them a kind shows; the second is what stands else.
GOALS = ("slots/kind_goals.html", "components/nothing.html")


@require_safe
def kinds(request: HttpRequest) -> HttpResponse:
    """List every kind, to those who work at a school."""
    for_staff(request)
    return render(request, "cards/kinds.html", {"kinds": KINDS.values()})


@require_safe
def kind(request: HttpRequest, name: str) -> HttpResponse:
    """Show one kind: its forms, depths, mistakes, and what to set next."""
    for_staff(request)
    if name not in KINDS:
        raise Http404
    context = {
        "sheet": kind_sheet(name),
        "goals_of_kind": GOALS,
        "classes": SchoolClass.objects.run_by(request.user).select_related("year"),
    }
    return render(request, "cards/kind.html", context)


def for_staff(request: HttpRequest) -> None:
    """Keep the page to those who work at a school. Raises Http404."""
    if not request.user.has_post:
        raise Http404

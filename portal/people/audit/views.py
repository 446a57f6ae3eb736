"""What was done and seen at the school: for its leads."""

from typing import NamedTuple

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from portal.people.accounts.views.staff import school_led
from portal.people.audit.forms import LogForm, kind_in_words
from portal.people.models import Child, Event, User

LINES_A_PAGE = 100


class Line(NamedTuple):
    """One event with the names of those it is about, looked up now: the event holds ids."""

    event: Event
    who: str
    about: str


@require_safe
def log(request: HttpRequest) -> HttpResponse:
    """List what was done and seen, newest first."""
    school = school_led(request)
    form = LogForm(school, request.GET or None)
    events = form.narrow(Event.objects.visible_to(request.user).filter(school=school))
    page = Paginator(events, LINES_A_PAGE).get_page(request.GET.get("page"))
    context = {"form": form, "page": page, "lines": lines_of(page.object_list)}
    return render(request, "audit/log.html", context)


def lines_of(events: list[Event]) -> list[Line]:
    """Return *events* with names, in a fixed number of queries."""
    events = list(events)
    people = {event.who for event in events}
    people |= {event.object_id for event in events if event.kind == "people.user"}
    children = {event.object_id for event in events if event.kind == "people.child"}
    names = {pk: user.name for pk, user in User.objects.in_bulk(people - {None}).items()}
    called = Child.objects.in_bulk(children)
    return [
        Line(event, names.get(event.who, number(event.who)), about(event, names, called))
        for event in events
    ]


def number(pk: int | None) -> str:
    """Return the number of an account that has gone; nothing for a visitor."""
    return f"#{pk}" if pk else ""


def about(event: Event, names: dict[int, str], children: dict[int, Child]) -> str:
    """Return what *event* is about: a name where this app knows one, else kind and number."""
    if event.kind == "people.user" and event.object_id in names:
        return names[event.object_id]
    if event.kind == "people.child" and event.object_id in children:
        return str(children[event.object_id])
    said = kind_in_words(event.kind)
    return f"{said} {event.object_id}" if event.object_id else said

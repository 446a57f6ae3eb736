"""Writing down what is done and seen. Ids only: no names, addresses, codes or tokens."""

import datetime as dt
from collections.abc import Callable

from django.db import models
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from portal.people.models import Event, School, StaffPost, User
from portal.people.out_of_range import LARGEST
from portal.people.timezone_middleware import school_of

RANK = (
    StaffPost.Role.LEAD,
    StaffPost.Role.TEACHER,
    StaffPost.Role.ASSISTANT,
    StaffPost.Role.OFFICE,
)


class Refusals:
    """Write down the requests that were refused."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if response.status_code in (403, 404) and request.user.is_authenticated:
            record_refusal(request)
        return response


def record(
    request: HttpRequest,
    what: Event.What,
    about: models.Model | None = None,
    *,
    who: User | None = None,
    school: School | None = None,
    once_within: dt.timedelta | None = None,
) -> None:
    """Write down that the person asking (or *who*) did or saw *what*, *about* some object.

    *once_within*: leave it out if the same was written so short a time ago; for a clip, each of
    whose ranges is a request of its own.
    """
    who = who or (request.user if request.user.is_authenticated else None)
    school = school or getattr(request, "school", None) or school_of(who)
    said = {
        "who": who.pk if who else None,
        "what": what,
        "kind": about._meta.label_lower if about else "",
        "object_id": about.pk if about else None,
    }
    if once_within:
        lately = Event.objects.filter(at__gt=timezone.now() - once_within, **said)
        if lately.exists():
            return
    Event.objects.create(
        school=school, role=role_of(who, school), request_id=getattr(request, "id", ""), **said
    )


def record_refusal(request: HttpRequest) -> None:
    """Write down that somebody signed in was told that a page is not there for them."""
    match = request.resolver_match
    if match is None:
        return
    values = match.kwargs.values()
    numbers = [value for value in values if isinstance(value, int) and value <= LARGEST]
    Event.objects.create(
        school=getattr(request, "school", None),
        who=request.user.pk,
        role=role_of(request.user, getattr(request, "school", None)),
        what=Event.What.REFUSED,
        kind=match.view_name[:60],
        object_id=numbers[0] if numbers else None,
        request_id=request.id,
    )


def role_of(user: User | None, school: School | None) -> Event.Role:
    """Return the role that *user* has at *school*: of several, the one that may do most."""
    if user is None:
        return Event.Role.VISITOR
    roles = {post.role for post in user.posts_held if school is None or post.school_id == school.pk}
    best = next((role for role in RANK if role in roles), None)
    return Event.Role(best) if best else Event.Role.FAMILY

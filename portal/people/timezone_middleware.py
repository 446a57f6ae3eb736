"""Puts each request on the clock of the school it concerns."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from portal.people.asking import Asker
from portal.people.models import Guardianship, School


def school_of(user: Asker | None) -> School | None:
    """Return the school of *user*: the one worked at, else the one their child goes to."""
    if user is None or not user.is_active:
        return None
    if user.posts_held:
        return user.posts_held[0].school
    homes = Guardianship.objects.current().filter(adult=user).values("child__school")
    return School.objects.filter(pk__in=homes).first()


class SchoolTime:
    """Show every time of day as the school's own clock shows it."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not request.user.is_authenticated:
            return self.get_response(request)
        school = school_of(request.user)
        request.school = school  # type: ignore[attr-defined] # of ours
        zone = school.zone if school else timezone.get_default_timezone()
        with timezone.override(zone):
            return self.get_response(request)

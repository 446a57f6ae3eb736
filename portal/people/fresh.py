"""What needs a sign-in of the last few minutes, however long one has been in."""

import datetime as dt
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from portal.people.going_on import remember

FRESH = "fresh"
FRESH_FOR = dt.timedelta(minutes=10)


def mark_fresh(request: HttpRequest) -> None:
    """Note that somebody has proved just now who they are."""
    request.session[FRESH] = int(timezone.now().timestamp())


def is_fresh(request: HttpRequest) -> bool:
    """Whether that was within ten minutes. In the demo nobody has a password to prove it by."""
    age = timezone.now().timestamp() - request.session.get(FRESH, 0)
    return settings.DEMO or age <= FRESH_FOR.total_seconds()


def needs_fresh_sign_in(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Let a view be reached only by somebody who signed in within ten minutes (ASVS 7.5.1).

    Anybody else proves it anew first, and is led back to the page. Put it on the page with the
    form and on the address that takes the form.
    """

    @wraps(view)
    def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if is_fresh(request):
            return view(request, *args, **kwargs)
        remember(request)
        return redirect("people:again")

    return checked

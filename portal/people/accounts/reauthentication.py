"""What needs a sign-in of the last few minutes, however long one has been in."""

import datetime as dt
from collections.abc import Callable
from functools import wraps
from typing import Any
from urllib.parse import urlsplit, urlunsplit

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _

from portal.people.accounts.next_url import remember
from portal.people.asking import SignedInRequest

FRESH = "fresh"
FRESH_FOR = dt.timedelta(minutes=10)


def mark_fresh(request: HttpRequest) -> None:
    """Note that somebody has proved just now who they are."""
    request.session[FRESH] = int(timezone.now().timestamp())


def is_fresh(request: HttpRequest) -> bool:
    """Whether that was within ten minutes. In the demo nobody has a password to prove it by."""
    age = timezone.now().timestamp() - request.session.get(FRESH, 0)
    return settings.DEMO or age <= FRESH_FOR.total_seconds()


def needs_recent_sign_in(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Let a view be reached only by somebody who signed in within ten minutes (ASVS 7.5.1).

    Anybody else proves it again first, and is led back to the page. Put it on the page with the
    form and on the address that takes the form.
    """

    @wraps(view)
    def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if is_fresh(request):
            return view(request, *args, **kwargs)
        remember(request, "" if request.method in ("GET", "HEAD") else page_of_button(request))
        return redirect("people:again")

    return checked


def page_of_button(request: HttpRequest) -> str:
    """Return the page of ours on which a button was pressed; "" where the browser does not say."""
    page = urlsplit(request.headers.get("Referer", ""))
    is_ours = page.netloc == request.get_host()
    return urlunsplit(("", "", page.path, page.query, "")) if is_ours else ""


def needs_proof(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Let a view be reached only with a proved address and a sign-in of within ten minutes.

    For what takes a child's data out of the portal, and for what gives somebody power over it.
    """

    @wraps(view)
    def checked(request: SignedInRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if request.user.is_proved:
            return needs_recent_sign_in(view)(request, *args, **kwargs)
        messages.warning(
            request,
            _("We need to know your e-mail address for this: confirm it here, or ask the school."),
        )
        return redirect("people:account")

    return checked

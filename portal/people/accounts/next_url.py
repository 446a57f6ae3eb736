"""Where somebody wanted to go when the door came in between."""

from django.http import HttpRequest
from django.utils.http import url_has_allowed_host_and_scheme

AFTER = "go on to"


def remember(request: HttpRequest, address: str = "") -> None:
    """Note *address*, or else the page asked for, to go on to. Pages of others are left out."""
    wanted = address or (request.get_full_path() if request.method in ("GET", "HEAD") else "")
    if wanted.startswith("/") and url_has_allowed_host_and_scheme(wanted, allowed_hosts=None):
        request.session[AFTER] = wanted


def go_on(request: HttpRequest) -> str:
    """Return the address noted, once; else the front door."""
    return str(request.session.pop(AFTER, "/"))

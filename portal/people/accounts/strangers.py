"""Little is accepted from people who are not signed in, so that strangers tie up no thread.

A small body is there before a thread begins with its request (portal/supervisor/patient.py); a
large one would be waited for by the check of a form's token, as slowly as its sender likes.
"""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse

from portal.supervisor.whole import SMALL

View = Callable[..., HttpResponse]


def decides_first(view: View) -> View:
    """Mark *view* as one that reads nothing before it knows from whom it comes."""
    view.decides_first = True  # type: ignore[attr-defined]
    return view


class LittleFromStrangers:
    """Refuse a stranger's large body before any of it is read.

    It stands after what sends strangers to the sign-in page, and before what reads forms.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: View, _args: Any, _kwargs: dict[str, Any]
    ) -> HttpResponse | None:
        """Return a 413 for what is too large from a stranger; None for anything else."""
        if int(request.META.get("CONTENT_LENGTH") or 0) <= SMALL or hasattr(view, "decides_first"):
            return None
        return None if request.user.is_authenticated else HttpResponse(status=413)

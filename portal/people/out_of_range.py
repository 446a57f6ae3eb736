"""Numbers and dates that nothing can have: in an address or a form they are 404, and are noted."""

import logging
from collections.abc import Callable
from typing import Any

from django.db import DataError
from django.http import Http404, HttpRequest, HttpResponse

log = logging.getLogger(__name__)
LARGEST = 2**63 - 1  # of a key in either database


class NothingThere:
    """Answer 404 to what is beyond the keys and days that can be, whatever page it is asked of."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Callable, args: Any, kwargs: dict[str, Any]
    ) -> None:
        """Raise Http404 for a number in the address that no row can have."""
        if any(isinstance(value, int) and value > LARGEST for value in kwargs.values()):
            log.warning("a number that nothing can have was asked for")
            raise Http404

    def process_exception(self, request: HttpRequest, error: Exception) -> None:
        """Raise Http404 where a number or day of a query or form went beyond what can be."""
        if isinstance(error, OverflowError | DataError):
            log.warning("a number or day beyond what can be was sent", exc_info=error)
            raise Http404 from error

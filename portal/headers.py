"""What every answer carries: privacy unless a view says otherwise, and small pages."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.middleware.gzip import GZipMiddleware

FEATURES = "geolocation=(), payment=(), usb=(), camera=(), interest-cohort=(), microphone="
UNUSED_FEATURES = f"{FEATURES}()"


class PrivateByDefault:
    """Keep every answer out of caches and other sites, static files apart."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if not request.path.startswith(settings.STATIC_URL):
            response.headers.setdefault("Cache-Control", "no-store")
            response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
            response.headers.setdefault("Permissions-Policy", UNUSED_FEATURES)
        return response


def with_microphone(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Let the page of a view ask whoever reads it for the microphone, to record a voice note."""

    @wraps(view)
    def allowing(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        response = view(request, *args, **kwargs)
        response.headers["Permissions-Policy"] = f"{FEATURES}(self)"
        return response

    return allowing


class CompressPages(GZipMiddleware):
    """Compress what is text. Photos, clips and parts of files go as they are."""

    TEXT = ("text/html", "text/css", "text/csv", "text/javascript")

    def process_response(self, request: HttpRequest, response: HttpResponse) -> HttpResponse:
        """Hand pages and scripts, and nothing else, to Django's compression."""
        if response.get("Content-Type", "").startswith(self.TEXT):
            return super().process_response(request, response)
        return response

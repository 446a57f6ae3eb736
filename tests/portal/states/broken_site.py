"""The portal with one address more, at which it breaks."""

from django.http import HttpRequest, HttpResponse
from django.urls import path

from portal.urls import urlpatterns as of_the_portal


def broken(request: HttpRequest) -> HttpResponse:
    """Break, as no page should."""
    raise RuntimeError("It broke, as the test wants.")


urlpatterns = [*of_the_portal, path("broken/", broken, name="broken")]

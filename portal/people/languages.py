"""Which language a page is in: families and visitors choose, staff pages are in English."""

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils import translation
from django.utils.cache import patch_vary_headers
from django.utils.translation.trans_real import parse_accept_lang_header

from portal.people.models import User

COOKIE = settings.LANGUAGE_COOKIE_NAME
# Doors that only staff go through, and the demo's pages, which speak to staff as well.
STAFF_DOORS = {
    "demo:start",
    "demo:mails",
    "people:staff-sign-in",
    "people:second-step",
    "people:set-password",
    "people:forgotten",
}


def known(language: str | None) -> str | None:
    """Return the offered language that *language*, such as pl-PL, asks for; None for another."""
    code = (language or "").lower()
    offered = dict(settings.LANGUAGES)
    base = code.split("-")[0]
    if base == "en":
        return settings.LANGUAGE_CODE
    return next((each for each in (code, base) if each in offered), None)


def language_for(request: HttpRequest) -> str:
    """Choose the language: the adult's own, else the browser's cookie, else what it accepts."""
    user = getattr(request, "user", None)
    if user is not None and user.is_authenticated:
        return settings.LANGUAGE_CODE if user.has_post else known(user.language) or fallback()
    if chosen := known(request.COOKIES.get(COOKIE)):
        return chosen
    accepted = parse_accept_lang_header(request.headers.get("Accept-Language", ""))
    return next((found for code, _q in accepted if (found := known(code))), fallback())


def fallback() -> str:
    """Return English."""
    return settings.LANGUAGE_CODE


def keep_choice(request: HttpRequest, user: User) -> None:
    """Make the language chosen at the door that of *user*, who has chosen none yet."""
    chosen = known(request.COOKIES.get(COOKIE))
    if chosen and user.language == settings.LANGUAGE_CODE != chosen:
        user.language = chosen
        user.save(update_fields=["language"])


class ChosenLanguage:
    """Put each page in the language of its reader."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with translation.override(language_for(request)):
            request.LANGUAGE_CODE = translation.get_language()
            response = self.get_response(request)
            response.headers.setdefault("Content-Language", translation.get_language())
        if not request.user.is_authenticated:
            patch_vary_headers(response, ("Accept-Language", "Cookie"))
        return response

    def process_view(
        self, request: HttpRequest, view: Callable[..., Any], args: Any, kwargs: Any
    ) -> None:
        """Leave the doors of staff in English; override() puts back what was there before."""
        if request.resolver_match and request.resolver_match.view_name in STAFF_DOORS:
            translation.activate(settings.LANGUAGE_CODE)
            request.LANGUAGE_CODE = settings.LANGUAGE_CODE

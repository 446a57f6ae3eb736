"""The control that changes the language of a family's pages, in place."""

from typing import Any

from django import template
from django.conf import settings
from django.utils.translation import get_language

from portal.people.languages import STAFF_DOORS
from portal.translation.languages import ENGLISH, RIGHT_TO_LEFT, catalogue

register = template.Library()


@register.inclusion_tag("components/language.html", takes_context=True)
def language_choice(context: template.Context) -> dict[str, Any]:
    """Offer the languages, each by what it calls itself; nothing at a door of staff."""
    request = context.get("request")
    match = getattr(request, "resolver_match", None)
    for_staff = match is not None and match.view_name in STAFF_DOORS
    here = get_language() or ENGLISH
    its = catalogue(here)
    return {
        "request": request,
        "csrf_token": context.get("csrf_token"),
        "offered": [] if for_staff else settings.LANGUAGES,
        "right_to_left": RIGHT_TO_LEFT,
        "here": here,
        "own_name": dict(settings.LANGUAGES).get(here, "English"),
        "is_checked": its is None or its.is_checked,
    }

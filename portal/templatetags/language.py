"""The control by which a family changes the language of its pages, in place."""

from typing import Any

from django import template
from django.conf import settings
from django.utils.translation import get_language

from portal.languages import ENGLISH, RIGHT_TO_LEFT, catalogue

register = template.Library()


@register.inclusion_tag("components/language.html", takes_context=True)
def language_choice(context: template.Context) -> dict[str, Any]:
    """Offer the languages, each by what it calls itself; nothing where there is one alone."""
    here = get_language() or ENGLISH
    its = catalogue(here)
    return {
        "request": context.get("request"),
        "csrf_token": context.get("csrf_token"),
        "offered": settings.LANGUAGES,
        "right_to_left": RIGHT_TO_LEFT,
        "here": here,
        "own_name": dict(settings.LANGUAGES).get(here, "English"),
        "is_checked": its is None or its.is_checked,
    }

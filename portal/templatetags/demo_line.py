"""The line at the top of every page of the demo: {% load demo_line %}."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

from django import template
from django.conf import settings

from portal import demo_date
from portal.people.models import School

register = template.Library()


@register.inclusion_tag("components/demo_line.html")
def demo_line() -> dict[str, Any]:
    """Say that the school is invented, and which day it shows where that is not the real one."""
    if not settings.DEMO:
        return {"demo": False}
    return {"demo": True, **days()}


def days() -> dict[str, dt.date | bool | None]:
    """Return the day by the clock, the day shown where it is another, and whether that is past.

    A day is past when there has been school since: then starting again gives a newer one.
    """
    date, shown = demo_date.now(ZoneInfo("Europe/London")).date(), demo_date.shown()
    if shown is None or shown == date:
        return {"date": date, "shown": None, "is_past": False}
    school = School.objects.order_by("pk").first()
    closures = list(school.closures.values_list("first", "last")) if school else []
    return {
        "date": date,
        "shown": shown,
        "is_past": demo_date.last_school_day(date, closures) > shown,
    }

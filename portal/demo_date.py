"""The day that the demo shows as if it were today: the one place that says so.

An invented school is made for a school day, the last one where today is none, and keeps it: what
was sent, looked at and set fits that day and no other. The mark in its data folder names the day.
Moments (of sign-in, sessions, leases, what is kept how long) go by the clock, in the demo too.
"""

import datetime as dt
from collections.abc import Iterable
from pathlib import Path

from django.conf import settings
from django.utils import timezone

SCHOOL_DAYS = 5  # Monday to Friday
Span = tuple[dt.date, dt.date]


def mark() -> Path:
    """Return where the mark of an invented school lies; `serve` refuses a folder that has one."""
    return settings.DATA_DIR / "demo-school"


def now(zone: dt.tzinfo) -> dt.datetime:
    """Return the moment by the clock; on DEMO_TODAY, where that is set."""
    moment = timezone.now().astimezone(zone)
    if settings.DEMO_TODAY is None:
        return moment
    return dt.datetime.combine(settings.DEMO_TODAY, moment.timetz())


def shown() -> dt.date | None:
    """Return the day that the demo shows; None in a real portal, and before its school is made."""
    if not settings.DEMO:
        return None
    try:
        return dt.date.fromisoformat(mark().read_text(encoding="ascii").strip())
    except (OSError, ValueError):
        return None


def show(day: dt.date) -> None:
    """Have the demo show *day* from now on."""
    mark().write_text(f"{day.isoformat()}\n", encoding="ascii")


def last_school_day(day: dt.date, closures: Iterable[Span]) -> dt.date:
    """Return *day*, or the last school day before it where it is none.

    >>> last_school_day(dt.date(2026, 11, 29), [(dt.date(2026, 11, 27), dt.date(2026, 11, 27))])
    datetime.date(2026, 11, 26)
    """
    spans = list(closures)
    while day.weekday() >= SCHOOL_DAYS or any(first <= day <= last for first, last in spans):
        day -= dt.timedelta(days=1)
    return day

"""A demo in this process: its addresses, its folder, and the village in place of its school."""

import datetime as dt

import pytest
from django.utils import timezone

from portal import demo_date
from portal.demo.cast import CAST
from tasks.models import DayPlan
from tests.portal.demo import urls  # Before any test says DEMO: a real portal's have no demo's.

FRIDAY = dt.date(2026, 11, 27)


@pytest.fixture
def demo(settings, tmp_path):
    """Turn this portal into a demo with an empty data folder."""
    settings.DEMO, settings.DATA_DIR, settings.DEMO_TODAY = True, tmp_path, None
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.ROOT_URLCONF = urls.__name__
    settings.EMAIL_BACKEND = "portal.demo.mails.KeepOnly"
    return settings


@pytest.fixture
def cast(demo, village):
    """Call people of the village by the addresses of the cast; the day is a Friday."""
    roles = ("teacher", "assistant", "family", "second home", "lead", "office")
    for person, role in zip(CAST, roles, strict=True):
        user = village.people[role]
        user.email, user.email_confirmed_at = person.email, timezone.now()
        user.save()
    demo_date.show(FRIDAY)
    out_at = dt.datetime.combine(FRIDAY, dt.time(7), tzinfo=village.school.zone)
    DayPlan.objects.create(school_class=village.robins, date=FRIDAY, goes_out_at=out_at)
    return village

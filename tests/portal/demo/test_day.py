"""The demo's day: a school day, said plainly, and never a real portal's."""

import datetime as dt

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.test import Client
from freezegun import freeze_time

from assessment.demo.people import breaks
from portal import demo_date
from portal.environment import past_day

FRIDAY = dt.date(2026, 11, 27)


@pytest.mark.parametrize(
    ("today", "shows"),
    [
        ("2026-11-25", "2026-11-25"),  # a Wednesday
        ("2026-11-28", "2026-11-27"),  # Saturday
        ("2026-11-29", "2026-11-27"),  # Sunday
        ("2026-12-28", "2026-12-18"),  # the Christmas holidays
        ("2027-01-01", "2026-12-18"),
        ("2026-10-28", "2026-10-23"),  # the autumn break
    ],
)
def test_the_demo_has_the_last_school_day_when_today_is_none(today, shows):
    date = dt.date.fromisoformat(today)
    closures = [(first, last) for _name, first, last in breaks(date)]
    assert demo_date.last_school_day(date, closures) == dt.date.fromisoformat(shows)


@pytest.mark.django_db
def test_today_is_the_day_shown_in_the_demo_and_the_clocks_day_elsewhere(cast, settings):
    with freeze_time("2026-11-28 10:00"):
        assert cast.school.today() == FRIDAY
        settings.DEMO = False
        assert cast.school.today() == dt.date(2026, 11, 28)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("at", "said"),
    [
        ("2026-11-28 10:00", "It is Saturday. The demo shows Friday 27 November as if it were"),
        ("2026-11-27 10:00", "An invented school"),
        ("2026-12-01 10:00", "It is Tuesday 1 December. The demo shows Friday 27 November"),
    ],
)
def test_every_page_of_the_demo_says_which_day_it_shows(cast, at, said):
    with freeze_time(at):
        client = Client()
        assert said in client.get("/demo/").content.decode()
        for key in ("family", "teacher"):
            page = client.get(f"/demo/as/{key}/", follow=True).content.decode()
            assert said in page
            assert ("Start again for a newer day" in page) == (at[:10] == "2026-12-01")


@pytest.mark.django_db
def test_a_real_portal_says_nothing_of_a_demo(village):
    assert "demo" not in Client().get("/sign-in/").content.decode().lower()


def test_the_demos_clock_is_set_to_a_day_that_has_come_and_in_the_demo_alone(monkeypatch):
    monkeypatch.setenv("DEMO_TODAY", "2020-11-28")
    assert past_day("DEMO_TODAY") == dt.date(2020, 11, 28)
    for wrong in ("2999-01-01", "Saturday"):
        monkeypatch.setenv("DEMO_TODAY", wrong)
        with pytest.raises(ImproperlyConfigured, match="DEMO_TODAY must"):
            past_day("DEMO_TODAY")

"""Weeks against ISO 8601 and the published changes of clocks."""

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from assessment.insight.weeks import Week, summary_due, week_of


@pytest.mark.parametrize(
    ("day", "week"),
    [
        ("1977-01-01", "1976-W53"),
        ("1977-01-02", "1976-W53"),
        ("1977-01-03", "1977-W01"),
        ("1978-01-01", "1977-W52"),
        ("1978-01-02", "1978-W01"),
        ("1980-12-28", "1980-W52"),
        ("1980-12-29", "1981-W01"),
        ("2005-01-01", "2004-W53"),
        ("2008-12-29", "2009-W01"),
        ("2010-01-03", "2009-W53"),
        ("2020-12-31", "2020-W53"),
        ("2021-01-03", "2020-W53"),
        ("2021-01-04", "2021-W01"),
        ("2026-12-31", "2026-W53"),
    ],
)
def test_week_numbers_are_those_of_the_standard(day, week):
    """Source: ISO 8601, examples of week dates about the turn of the year."""
    assert str(Week.of(date.fromisoformat(day))) == week


@pytest.mark.parametrize("year", range(2000, 2040))
def test_the_fourth_of_january_and_the_first_thursday_are_in_week_one(year):
    """Source: ISO 8601: week 1 is the week with the year's first Thursday, so with 4 January."""
    first = Week(year, 1)
    assert date(year, 1, 4) in first
    thursday = next(date(year, 1, day) for day in range(1, 8) if date(year, 1, day).weekday() == 3)
    assert thursday in first


@pytest.mark.parametrize(
    ("week", "utc"),
    [
        (Week(2025, 13), "2025-03-28T15:30"),
        (Week(2025, 14), "2025-04-04T14:30"),
        (Week(2025, 43), "2025-10-24T14:30"),
        (Week(2025, 44), "2025-10-31T15:30"),
    ],
)
def test_half_past_three_stays_half_past_three_when_the_clocks_change(week, utc):
    """Source: gov.uk, when do the clocks change: 30 March and 26 October 2025."""
    due = summary_due(week, ZoneInfo("Europe/London"))
    assert due == datetime.fromisoformat(utc).replace(tzinfo=UTC)


def test_a_friday_whose_first_hour_is_skipped_still_has_its_moment():
    """Source: tz database: Egypt's clocks go from 00:00 to 01:00 on Friday 26 April 2024."""
    zone = ZoneInfo("Africa/Cairo")
    due = summary_due(Week(2024, 17), zone, at=time(0, 30))
    assert due == datetime(2024, 4, 25, 22, 30, tzinfo=UTC)
    assert due.astimezone(zone).time() == time(1, 30)


def test_the_week_of_a_clock_change_is_one_hour_short_or_long():
    """Source: gov.uk, when do the clocks change: 30 March and 26 October 2025."""
    london = ZoneInfo("Europe/London")
    assert week_of(datetime(2025, 3, 30, 22, 59, tzinfo=UTC), london) == Week(2025, 13)
    assert week_of(datetime(2025, 3, 30, 23, 0, tzinfo=UTC), london) == Week(2025, 14)
    assert week_of(datetime(2025, 10, 26, 23, 59, tzinfo=UTC), london) == Week(2025, 43)
    assert week_of(datetime(2025, 10, 27, 0, 0, tzinfo=UTC), london) == Week(2025, 44)

"""The school's clock against the law and the calendar standard."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from tasks.days import NoSuchTimeError, moment, monday_named, week_name

LONDON = ZoneInfo("Europe/London")
SEVEN = dt.time(7)


def last_sunday(year: int, month: int) -> dt.date:
    """Return the last Sunday of a month of 31 days."""
    last = dt.date(year, month, 31)
    return last - dt.timedelta(days=last.isoweekday() % 7)


@pytest.mark.parametrize("year", range(2024, 2034))
def test_summer_time_runs_from_the_last_sunday_of_march_to_that_of_october(year: int):
    """Source: Summer Time Act 1972 as amended by the Summer Time Order 2002: one hour ahead of
    Greenwich from one in the morning on the last Sunday in March to that in October."""
    begins, ends = last_sunday(year, 3), last_sunday(year, 10)
    day = dt.timedelta(days=1)

    hours = [moment(date, SEVEN, LONDON).hour for date in (begins - day, begins, ends - day, ends)]

    assert hours == [7, 6, 6, 7]
    with pytest.raises(NoSuchTimeError):
        moment(begins, dt.time(1, 30), LONDON)


@pytest.mark.parametrize(
    ("day", "week", "monday"),
    [
        ("2005-01-01", "2004-W53", "2004-12-27"),
        ("2005-12-31", "2005-W52", "2005-12-26"),
        ("2007-01-01", "2007-W01", "2007-01-01"),
        ("2008-12-29", "2009-W01", "2008-12-29"),
        ("2010-01-03", "2009-W53", "2009-12-28"),
    ],
)
def test_weeks_around_new_year_are_named_as_in_iso_8601(day: str, week: str, monday: str):
    """Source: ISO 8601 week dates, the usual examples around new year (from memory)."""
    assert week_name(dt.date.fromisoformat(day)) == week
    assert monday_named(week) == dt.date.fromisoformat(monday)

"""School weeks and school days."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.insight.weeks import (
    Week,
    school_days,
    summary_due,
    week_due,
    week_of,
    week_to_open,
)

LONDON = ZoneInfo("Europe/London")
WEEK = Week(2025, 45)
MONDAY = date(2025, 11, 3)
HALF_TERM = (date(2025, 10, 27), date(2025, 10, 31))


def on(day):
    return MONDAY + timedelta(days=day)


def test_a_week_runs_from_monday_to_sunday():
    assert (WEEK.monday, WEEK.sunday, str(WEEK)) == (MONDAY, on(6), "2025-W45")
    assert on(6) in WEEK and on(7) not in WEEK and "today" not in WEEK


def test_weeks_follow_each_other_across_new_year():
    assert Week(2026, 53).shifted(1) == Week(2027, 1)
    assert Week(2027, 1).shifted(-1) == Week(2026, 53)


def test_a_week_the_year_does_not_have_is_refused():
    with pytest.raises(ValueError, match="week"):
        Week(2025, 53)


def test_weekends_and_closures_are_no_school_days():
    days = list(school_days(date(2025, 10, 23), date(2025, 11, 4), [HALF_TERM]))
    assert [day.day for day in days] == [23, 24, 3, 4]


def test_a_span_that_ends_before_it_begins_has_no_days():
    assert list(school_days(on(3), on(2))) == []


MORNING = (  # common practice, no source: the week that was is read at the start of the next
    ("Monday morning", datetime(2025, 11, 10, 8, 0, tzinfo=UTC), WEEK),
    ("Monday afternoon", datetime(2025, 11, 10, 13, 0, tzinfo=UTC), WEEK.shifted(1)),
    ("Sunday", datetime(2025, 11, 9, 20, 0, tzinfo=UTC), WEEK),
    ("Wednesday", datetime(2025, 11, 5, 8, 0, tzinfo=UTC), WEEK),
    ("in the holiday", datetime(2025, 10, 29, 12, 0, tzinfo=UTC), WEEK.shifted(-2)),
    ("the first morning after it", datetime(2025, 11, 3, 9, 0, tzinfo=UTC), WEEK.shifted(-2)),
)


@pytest.mark.parametrize(("now", "week"), [row[1:] for row in MORNING], ids=[r[0] for r in MORNING])
def test_until_noon_of_the_first_school_day_the_week_that_was_opens(now, week):
    assert week_to_open(now, LONDON, [HALF_TERM]) == week


def test_the_week_is_rolled_up_on_friday_afternoon_by_the_schools_clocks():
    assert summary_due(WEEK, LONDON) == datetime(2025, 11, 7, 15, 30, tzinfo=UTC)
    assert summary_due(Week(2025, 25), LONDON) == datetime(2025, 6, 20, 14, 30, tzinfo=UTC)


def test_where_friday_is_closed_the_last_school_day_before_it_counts():
    due = summary_due(WEEK, LONDON, [(on(3), on(4))])
    assert due == datetime(2025, 11, 5, 15, 30, tzinfo=UTC)


def test_a_week_without_school_is_not_rolled_up():
    assert summary_due(Week(2025, 44), LONDON, [HALF_TERM]) is None


def test_on_friday_evening_the_week_is_due_and_stays_so_until_the_next():
    def due(*moment):
        return week_due(datetime(2025, *moment, tzinfo=LONDON), LONDON, [HALF_TERM])

    assert due(11, 7, 15, 29) == Week(2025, 43)
    assert due(11, 7, 15, 30) == WEEK
    assert due(11, 14, 15, 29) == WEEK


def test_in_a_long_summer_no_week_is_due():
    summer = [(date(2025, 6, 1), date(2025, 9, 30))]
    assert week_due(datetime(2025, 9, 1, tzinfo=UTC), LONDON, summer) is None


def test_work_sent_late_on_sunday_in_summer_belongs_to_the_week_that_began_there():
    sent = datetime(2025, 6, 22, 23, 30, tzinfo=UTC)
    assert week_of(sent, LONDON) == Week(2025, 26)
    assert week_of(sent, UTC) == Week(2025, 25)


def test_a_moment_without_a_time_zone_is_refused():
    with pytest.raises(ValueError, match="time zone"):
        week_of(datetime(2025, 6, 22), LONDON)  # noqa: DTZ001


@settings(deadline=None)
@given(
    st.integers(1_577_836_800, 1_893_456_000),
    st.sampled_from(
        ["Europe/London", "Australia/Lord_Howe", "America/New_York", "Asia/Kolkata", "Africa/Cairo"]
    ),
    st.times(),
)
def test_at_every_moment_the_latest_week_due_is_the_last_whose_time_has_come(second, name, at):
    zone, now = ZoneInfo(name), datetime.fromtimestamp(second, UTC)
    week = week_due(now, zone, at=at)
    assert summary_due(week, zone, at=at) <= now < summary_due(week.shifted(1), zone, at=at)


def test_the_time_of_day_may_be_chosen():
    assert summary_due(WEEK, LONDON, at=time(9)) == datetime(2025, 11, 7, 9, tzinfo=UTC)

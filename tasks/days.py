"""School days and the school's clock: dates in addresses, weeks, and the time work goes out."""

import datetime as dt
from zoneinfo import ZoneInfo

SCHOOL_DAYS = 5  # Monday to Friday
YEARS = range(2000, 2200)  # that an address may name


class DayInAddress:
    """A date in an address, as in plan/2026-11-23/."""

    regex = r"\d{4}-\d{2}-\d{2}"

    def to_python(self, value: str) -> dt.date:
        """Read the date. Raises ValueError, which Django answers with 404, for 2026-02-30.

        So it does for years that no school has had or will have: sums with days end before 0001.
        """
        day = dt.date.fromisoformat(value)
        if day.year not in YEARS:
            raise ValueError(f"{day} is in no year of a school")
        return day

    def to_url(self, value: dt.date | str) -> str:
        """Write the date."""
        return str(value)


class NoSuchTimeError(ValueError):
    """The clocks went forward over this time, so it never comes."""


def monday_of(day: dt.date) -> dt.date:
    """Return the Monday of the week of *day*."""
    return day - dt.timedelta(days=day.weekday())


def week_name(day: dt.date) -> str:
    """Name the week of *day* as ISO 8601 does.

    >>> week_name(dt.date(2026, 11, 23))
    '2026-W48'
    """
    year, week, _weekday = day.isocalendar()
    return f"{year}-W{week:02}"


def monday_named(week: str) -> dt.date:
    """Return the Monday of *week*, an ISO 8601 week such as 2026-W48. Raises ValueError."""
    year, number = week.split("-W")
    return dt.date.fromisocalendar(int(year), int(number), 1)


def school_days(monday: dt.date) -> list[dt.date]:
    """Return Monday to Friday of the week that begins on *monday*."""
    return [monday + dt.timedelta(days=number) for number in range(SCHOOL_DAYS)]


def moment(day: dt.date, time: dt.time, zone: ZoneInfo) -> dt.datetime:
    """Return the moment at which clocks in *zone* show *time* on *day*; of two, the first.

    Raises NoSuchTimeError when the clocks go forward over it.

    >>> moment(dt.date(2026, 7, 1), dt.time(7), ZoneInfo("Europe/London")).isoformat()
    '2026-07-01T06:00:00+00:00'
    """
    shown = dt.datetime.combine(day, time, zone)
    real = shown.astimezone(dt.UTC)
    if real.astimezone(zone).replace(tzinfo=None) != shown.replace(tzinfo=None):
        raise NoSuchTimeError(f"{shown:%H:%M} does not come on {day}")
    return real

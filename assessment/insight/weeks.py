"""School weeks and school days: which week a moment belongs to, and when a week is summed up."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import Self

DAY = timedelta(days=1)
ROLLED_UP_AT, NOON = time(15, 30), time(12)
SCHOOL_WEEKDAYS = 5
# A span of days without school, first and last both included.
Closure = tuple[date, date]


@dataclass(frozen=True, slots=True, order=True)
class Week:
    """A week from Monday to Sunday, numbered as in ISO 8601; week 1 holds the first Thursday.

    ValueError for a week the year does not have.
    """

    year: int
    number: int

    def __post_init__(self) -> None:
        date.fromisocalendar(self.year, self.number, 1)

    def __str__(self) -> str:
        return f"{self.year}-W{self.number:02}"

    @classmethod
    def of(cls, day: date) -> Self:
        """Return the week *day* is in.

        >>> str(Week.of(date(2027, 1, 1)))
        '2026-W53'
        """
        year, number, _ = day.isocalendar()
        return cls(year, number)

    @property
    def monday(self) -> date:
        """Return the day the week starts on."""
        return date.fromisocalendar(self.year, self.number, 1)

    @property
    def sunday(self) -> date:
        """Return the day the week ends on."""
        return self.monday + 6 * DAY

    def shifted(self, weeks: int) -> Self:
        """Return the week that many *weeks* later, or earlier when negative."""
        return self.of(self.monday + 7 * weeks * DAY)

    def __contains__(self, day: object) -> bool:
        return isinstance(day, date) and self.monday <= day <= self.sunday


def school_days(first: date, last: date, closures: Iterable[Closure] = ()) -> Iterator[date]:
    """Yield the days from *first* to *last*, both included, but for weekends and closures."""
    spans = [span for span in closures if span[0] <= last and span[1] >= first]
    for offset in range((last - first).days + 1):
        day = first + offset * DAY
        if day.weekday() < SCHOOL_WEEKDAYS and not any(a <= day <= b for a, b in spans):
            yield day


def week_of(moment: datetime, zone: tzinfo) -> Week:
    """Return the week an aware *moment* falls in by the clocks of *zone*."""
    return Week.of(_aware(moment).astimezone(zone).date())


def summary_due(
    week: Week, zone: tzinfo, closures: Iterable[Closure] = (), at: time = ROLLED_UP_AT
) -> datetime | None:
    """Return the moment, in UTC, when *week* is to be summed up; None when it had no school.

    It is *at* by the school's clocks on the last school day of the week, a Friday but for
    closures. A time the clocks skip is taken by the offset before the change, so it comes
    after it; of a time that comes twice, the first counts. Common practice, no source.
    """
    days = list(school_days(week.monday, week.sunday, closures))
    if not days:
        return None
    return datetime.combine(days[-1], at.replace(fold=0), tzinfo=zone).astimezone(UTC)


def week_due(
    now: datetime, zone: tzinfo, closures: Sequence[Closure] = (), at: time = ROLLED_UP_AT
) -> Week | None:
    """Return the latest week whose moment to be summed up has come by the aware moment *now*.

    Looks back eight weeks, longer than any holiday; None when none of them had school.
    """
    this = week_of(now, zone)
    for back in range(9):
        due = summary_due(this.shifted(-back), zone, closures, at)
        if due is not None and due <= now:
            return this.shifted(-back)
    return None


def week_to_open(
    now: datetime, zone: tzinfo, closures: Sequence[Closure] = (), at: time = ROLLED_UP_AT
) -> Week:
    """Return the week that a class's staff come to read at the aware moment *now*.

    It is the week it is by the clocks of *zone*; until noon of its first school day, and in a
    week without school, the latest one that was summed up. Common practice, no source.
    """
    here = _aware(now).astimezone(zone)
    this = Week.of(here.date())
    first = next(school_days(this.monday, this.sunday, closures), None)
    begun = first is not None and here.replace(tzinfo=None) >= datetime.combine(first, NOON)
    return this if begun else week_due(now, zone, closures, at) or this


def _aware(moment: datetime) -> datetime:
    if moment.tzinfo is None:
        raise ValueError("a moment needs its time zone")
    return moment

"""How each home took part on each day that work was set: five things, and a day not over."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from .rows import Child, Sent


class Part(StrEnum):
    """What became of one day's work of one child."""

    SENT = "sent"
    COULD_NOT = "could not"
    ON_PAPER = "on paper"
    NOT_IN = "not come in"
    SILENT = "silent"
    OPEN = "not over"


def drawn_as(part: Part) -> str:
    """Return the name by which drawings know *part*."""
    return part.value.replace(" ", "-")


@dataclass(frozen=True, slots=True)
class WayIn:
    """How work reaches one child's home.

    came_in: the day on which an adult at home first came in; None while nobody has. on_paper:
    nobody is awaited there, as the home works on paper.
    """

    came_in: date | None = None
    on_paper: bool = False

    def counts(self, day: date) -> bool:
        """Whether silence about *day* says anything: days set after somebody came in."""
        return self.came_in is not None and day > self.came_in


def due_days(way: WayIn, days_set: Iterable[date], today: date) -> tuple[date, ...]:
    """Return the days set for which something could have come by now; *today* is not over.

    >>> monday, tuesday = date(2026, 11, 23), date(2026, 11, 24)
    >>> due_days(WayIn(came_in=date(2026, 9, 1)), [monday, tuesday], today=tuesday)
    (datetime.date(2026, 11, 23),)
    >>> due_days(WayIn(came_in=monday), [monday], today=tuesday)
    ()
    """
    return tuple(day for day in days_set if day < today and way.counts(day))


def parts_of(
    ways: Mapping[Child, WayIn],
    days_set: Sequence[date],
    sent: Iterable[Sent],
    told: Iterable[Sent],
    today: date,
) -> dict[Child, tuple[Part, ...]]:
    """Say for each child of *ways* what became of each of *days_set*, in their order.

    sent, told: each on the day that it is for. Work that came is work, whoever handed it in.
    """
    came = {(row.child, row.on) for row in sent}
    said = {(row.child, row.on) for row in told}
    return {
        child: tuple(_part(child, way, day, came, said, today) for day in days_set)
        for child, way in ways.items()
    }


def _part(
    child: Child,
    way: WayIn,
    day: date,
    came: Collection[tuple[Child, date]],
    said: Collection[tuple[Child, date]],
    today: date,
) -> Part:
    if (child, day) in came:
        return Part.SENT
    if (child, day) in said:
        return Part.COULD_NOT
    if way.on_paper:
        return Part.ON_PAPER
    if not way.counts(day):
        return Part.NOT_IN
    return Part.SILENT if day < today else Part.OPEN


def by_day(parts: Iterable[Sequence[Part]], days: int) -> tuple[Counter[Part], ...]:
    """Count the children of each part on each of so many *days*."""
    counted: tuple[Counter[Part], ...] = tuple(Counter() for _day in range(days))
    for row in parts:
        for place, part in enumerate(row):
            counted[place][part] += 1
    return counted


def not_heard_from(
    last: Mapping[Child, date], due: Mapping[Child, Collection[date]], days: int
) -> tuple[tuple[Child, int], ...]:
    """List the children from whom nothing came on the last *days* days set, or more.

    last: for each child the day something last came, or a day before all others. due: its days
    by `due_days`. Gives each with the count of days since, the longest first, otherwise in the
    order given. ValueError for days below 1.
    """
    if days < 1:
        raise ValueError(f"days must be 1 or more, not {days}")
    counted = [(child, sum(day > since for day in due[child])) for child, since in last.items()]
    return tuple(sorted((pair for pair in counted if pair[1] >= days), key=lambda pair: -pair[1]))

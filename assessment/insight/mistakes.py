"""Which mistakes come back in a child's work and which have gone."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from enum import StrEnum

from .rows import Child, Mistake, Worked

CLEAR_TO_BE_GONE = 2
LATEST_LOOKED_AT = 3


class Course(StrEnum):
    """How a mistake goes with one child, over the work that could show it.

    keeps coming: found in two or three of the latest three.
    gone: found before, and not in the latest two.
    seen: found otherwise.
    """

    SEEN = "seen"
    KEEPS_COMING = "keeps coming"
    GONE = "gone"


def courses(rows: Iterable[Worked], until: date) -> dict[Child, dict[Mistake, Course]]:
    """Say for each child how each mistake ever found goes, by work up to and on *until*.

    A mistake is one of its kind of work. Only work whose prompts can show it counts for or
    against it. Work of one day is taken together: found in any of it is found that day. A child
    or mistake without a finding is left out. Common practice, no source.
    """
    chances: dict[Child, dict[Mistake, dict[date, bool]]] = defaultdict(lambda: defaultdict(dict))
    for row in rows:
        if row.on <= until:
            for name in row.could_show | row.found:
                days = chances[row.child][Mistake(row.kind, name)]
                days[row.on] = days.get(row.on, False) or name in row.found
    return {
        child: gone_by
        for child, by_mistake in chances.items()
        if (
            gone_by := {
                mistake: _course([days[day] for day in sorted(days)])
                for mistake, days in sorted(by_mistake.items())
                if any(days.values())
            }
        )
    }


def _course(found: list[bool]) -> Course:
    if not any(found[-CLEAR_TO_BE_GONE:]):
        return Course.GONE
    return Course.KEEPS_COMING if sum(found[-LATEST_LOOKED_AT:]) > 1 else Course.SEEN

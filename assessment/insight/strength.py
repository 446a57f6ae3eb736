"""What was gathered on one goal of a child: days, ways and kinds, and what was not seen yet.

Nothing here is a level or a threshold: a teacher may judge with less or none.
Source: the statutory framework of the early years foundation stage, 2.2, practitioners "should
not be required to prove this through collection of physical evidence". What counts as missing
is common practice, no source.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import NamedTuple

from .fading import LOOKED_BACK
from .rows import Child, How, Role, Shown

DAYS_ALONE = 3
LATEST_LOOKED_AT = 3


class Missing(StrEnum):
    """What would make the evidence of a goal stronger."""

    ANY = "a first piece of work"
    UNAIDED = "the same without help"
    DAYS = "another day"
    VARIETY = "another kind of work or a new situation"
    SETTLING = "work that settles what is mixed"
    LATELY = "something from the last weeks"


class Seen(NamedTuple):
    """One time that a goal was tagged: the day of the work, and how it was shown."""

    on: date
    how: str


@dataclass(frozen=True, slots=True)
class Strength:
    """The evidence of one goal for one child; without any, nothing was tagged.

    The four counts add up to *count*. days are different days it was shown at all,
    unaided_days those it was shown without help. kinds are those it was shown unaided
    in, the longest ago first; against are the kinds of any "not yet" among the latest three
    on or after the day it was first shown unaided. latest: the last three times, the oldest
    first; of several on one day, in the order they were given.
    """

    count: int = 0
    not_yet: int = 0
    with_support: int = 0
    independently: int = 0
    in_a_new_situation: int = 0
    by_assistant: int = 0
    days: int = 0
    unaided_days: int = 0
    kinds: tuple[str, ...] = ()
    against: tuple[str, ...] = ()
    first_on: date | None = None
    latest: tuple[Seen, ...] = ()
    missing: tuple[Missing, ...] = (Missing.ANY,)

    @property
    def last_on(self) -> date | None:
        """Return the day of the latest work; None without any."""
        return self.latest[-1].on if self.latest else None

    @property
    def is_open(self) -> bool:
        """Tell whether something is missing beyond its being seen again."""
        return not set(self.missing) <= {Missing.LATELY}


def strength(rows: Iterable[Shown], today: date, goal_kinds: Collection[str] = ()) -> Strength:
    """Weigh the tags of one child on one goal, as they stand on *today*; later ones are left out.

    goal_kinds: the kinds of work that can show the goal. Where there is but one, no second
    kind is asked for.
    """
    ordered = sorted((row for row in rows if row.on <= today), key=lambda row: row.on)
    if not ordered:
        return Strength()
    tally = {how: sum(row.how == how for row in ordered) for how in How}
    shown = [row for row in ordered if row.how != How.NOT_YET]
    unaided = [row for row in ordered if row.unaided]
    against = _against(ordered, unaided)
    missing = _missing(shown, unaided, against, today, goal_kinds)
    return Strength(
        count=len(ordered),
        not_yet=tally[How.NOT_YET],
        with_support=tally[How.WITH_SUPPORT],
        independently=tally[How.INDEPENDENTLY],
        in_a_new_situation=tally[How.NEW_SITUATION],
        by_assistant=sum(row.by_role == Role.ASSISTANT for row in ordered),
        days=len({row.on for row in shown}),
        unaided_days=len({row.on for row in unaided}),
        kinds=tuple(reversed(dict.fromkeys(row.kind for row in reversed(unaided)))),
        against=against,
        first_on=ordered[0].on,
        latest=tuple(Seen(row.on, row.how) for row in ordered[-LATEST_LOOKED_AT:]),
        missing=missing,
    )


def strengths(
    rows: Iterable[Shown],
    children: Sequence[Child],
    goals: Mapping[str, Collection[str]],
    today: date,
) -> dict[tuple[Child, str], Strength]:
    """Weigh every child on every goal; goals maps each code to the kinds that can show it.

    Rows of other children or goals are passed over. One pass, linear in rows.
    """
    sorted_in: dict[tuple[Child, str], list[Shown]] = defaultdict(list)
    for row in rows:
        sorted_in[row.child, row.goal].append(row)
    return {
        (child, goal): strength(sorted_in.get((child, goal), ()), today, kinds)
        for child in children
        for goal, kinds in goals.items()
    }


def _against(ordered: list[Shown], unaided: list[Shown]) -> tuple[str, ...]:
    if not unaided:
        return ()
    latest = ordered[-LATEST_LOOKED_AT:]
    return tuple(
        dict.fromkeys(
            row.kind for row in latest if row.how == How.NOT_YET and row.on >= unaided[0].on
        )
    )


def _missing(
    shown: list[Shown],
    unaided: list[Shown],
    against: tuple[str, ...],
    today: date,
    goal_kinds: Collection[str],
) -> tuple[Missing, ...]:
    if not shown:
        return (Missing.ANY,)
    kinds_asked = 1 if len(goal_kinds) == 1 else 2
    varied = len({row.kind for row in unaided}) >= kinds_asked
    transferred = any(row.how == How.NEW_SITUATION for row in unaided)
    checks = {
        Missing.SETTLING: not against,
        Missing.UNAIDED: bool(unaided),
        Missing.DAYS: len({row.on for row in unaided}) >= DAYS_ALONE,
        Missing.VARIETY: varied or transferred,
        Missing.LATELY: today - shown[-1].on <= LOOKED_BACK,
    }
    return tuple(missing for missing, met in checks.items() if not met)

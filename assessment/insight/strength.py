"""How strong the evidence is that a child can do one goal: in words and counts, never a mark.

The words describe what has been gathered at home. They are no threshold: a teacher may
judge with less or none. Source: the statutory framework of the early years foundation
stage, 2.2, practitioners "should not be required to prove this through collection of
physical evidence". The rule itself is common practice, no source.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from .fading import LOOKED_BACK
from .rows import Child, How, Role, Shown

DAYS_WELL_SHOWN = 3
LATEST_LOOKED_AT = 3


class Word(StrEnum):
    """What the evidence of one goal amounts to.

    nothing yet: no work has been tagged with it.
    tried: work was tagged, each time "not yet".
    first sign: shown on one day.
    building: shown on more days than one, without being well shown.
    well shown: unaided on three days, in two kinds of work or a new situation, with
        nothing against it.
    mixed: shown unaided, and "not yet" on that day or later, among the latest three.
    """

    NOTHING = "nothing yet"
    TRIED = "tried"
    FIRST_SIGN = "first sign"
    BUILDING = "building"
    WELL_SHOWN = "well shown"
    MIXED = "mixed"


class Missing(StrEnum):
    """What would make the evidence of a goal stronger."""

    ANY = "a first piece of work"
    UNAIDED = "the same without help"
    DAYS = "another day"
    VARIETY = "another kind of work or a new situation"
    SETTLING = "work that settles what is mixed"
    LATELY = "something from the last weeks"


@dataclass(frozen=True, slots=True)
class Strength:
    """The evidence of one goal for one child.

    The four counts add up to *count*. days are different days it was shown at all,
    unaided_days those it was shown without help. kinds are those it was shown unaided
    in, the longest ago first; against are the kinds of the "not yet" that make it mixed.
    last_how: how it was shown on last_on; of several tags that day, in the last one given.
    """

    word: Word
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
    last_on: date | None = None
    last_how: str = ""
    missing: tuple[Missing, ...] = (Missing.ANY,)


def strength(rows: Iterable[Shown], today: date, goal_kinds: Collection[str] = ()) -> Strength:
    """Weigh the tags of one child on one goal, as they stand on *today*; later ones are left out.

    goal_kinds: the kinds of work that can show the goal. Where there is but one, no second
    kind is asked for.
    """
    ordered = sorted((row for row in rows if row.on <= today), key=lambda row: row.on)
    if not ordered:
        return Strength(Word.NOTHING)
    tally = {how: sum(row.how == how for row in ordered) for how in How}
    shown = [row for row in ordered if row.how != How.NOT_YET]
    unaided = [row for row in ordered if row.unaided]
    against = _against(ordered, unaided)
    days = len({row.on for row in shown})
    missing = _missing(shown, unaided, against, today, goal_kinds)
    return Strength(
        word=_word(days, against, missing),
        count=len(ordered),
        not_yet=tally[How.NOT_YET],
        with_support=tally[How.WITH_SUPPORT],
        independently=tally[How.INDEPENDENTLY],
        in_a_new_situation=tally[How.NEW_SITUATION],
        by_assistant=sum(row.by_role == Role.ASSISTANT for row in ordered),
        days=days,
        unaided_days=len({row.on for row in unaided}),
        kinds=tuple(reversed(dict.fromkeys(row.kind for row in reversed(unaided)))),
        against=against,
        first_on=ordered[0].on,
        last_on=ordered[-1].on,
        last_how=ordered[-1].how,
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
        Missing.DAYS: len({row.on for row in unaided}) >= DAYS_WELL_SHOWN,
        Missing.VARIETY: varied or transferred,
        Missing.LATELY: today - shown[-1].on <= LOOKED_BACK,
    }
    return tuple(missing for missing, met in checks.items() if not met)


def _word(days: int, against: tuple[str, ...], missing: tuple[Missing, ...]) -> Word:
    if days == 0:
        return Word.TRIED
    if against:
        return Word.MIXED
    if set(missing) <= {Missing.LATELY}:
        return Word.WELL_SHOWN
    return Word.FIRST_SIGN if days == 1 else Word.BUILDING

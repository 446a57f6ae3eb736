"""An invented class whose abilities are known, to see how soon the figures match the truth.

Used by tests and the bench: how many weeks of ordinary home work it takes until what is still
missing, and the groups made from it, agree with what the children can really do.
"""

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median

from .fading import has_faded
from .groups import Group, make_groups
from .mistakes import courses
from .needs import Reason, needs
from .rows import Child, Help, How, Mistake, Shown, Worked
from .strength import strengths
from .weeks import Week, school_days

GOALS: Mapping[str, tuple[str, ...]] = {
    "composition": ("number-of-the-day", "missing-part", "number-bonds"),
    "subitising": ("subitising",),
    "bonds": ("number-bonds", "missing-part", "doubling"),
    "counting": ("counting-on-in-ones", "missing-number", "hundred-square"),
    "comparing": ("comparing", "comparing-signs", "ordering"),
    "patterns": ("doubling", "sharing-equally", "halving", "odd-or-even"),
}
MISTAKES = {"doubling": "added one", "halving": "doubled", "number-bonds": "one out"}
FIRST_MONDAY = date(2025, 9, 8)
SENDS, TAGGED_RIGHT, SLIPS = 0.7, 0.95, 0.8


@dataclass(frozen=True, slots=True)
class Truth:
    """What the invented children are like.

    able_from: for child and goal, the week from which the child can do it alone; a number
    past the last week for never. mistake_until: for child and mistake, the last week the
    child makes it.
    """

    able_from: Mapping[tuple[Child, str], int]
    mistake_until: Mapping[tuple[Child, Mistake], int]


@dataclass(frozen=True, slots=True)
class Match:
    """How well the figures matched the truth.

    weeks_to_match: the first week from which, to the end, nothing is missing for those who are
    able, and something for the others, in at least nine goals in ten; None when never. delay:
    median weeks from being able to nothing missing. overstated: of the goals with nothing
    missing, the share of children who are not able, all weeks together, 0 to 1. grouped_right:
    by week, of the children grouped for something they find hard, the share who do; None in a
    week without any. reached: by week, of the children who find something hard, the share
    grouped for something they do.
    """

    weeks_to_match: int | None
    delay: float | None
    overstated: float
    grouped_right: tuple[float | None, ...]
    reached: tuple[float | None, ...]


def simulate(seed: int, children: int = 30, weeks: int = 36, size: int = 6) -> Match:
    """Live through a year of home work with an invented class and compare figures and truth.

    Each school day one kind is set, in turn; a child sends seven days in ten; the tag is
    right nineteen times in twenty; a mistake a child has shows four times in five. Equal
    arguments give equal results. The shares are assumptions, no source.
    """
    chance = random.Random(seed)  # noqa: S311 - seeded chance, not secrets
    names: list[Child] = list(range(children))
    truth = _truth(chance, names, weeks)
    shown: list[Shown] = []
    worked: list[Worked] = []
    agreeing, right, reached = [], [], []
    first_shown: dict[tuple[Child, str], int] = {}
    claimed = untrue = 0
    for week in range(weeks):
        friday = _work(chance, names, truth, week, shown, worked)
        found = strengths(shown, names, GOALS, friday)
        whole = {key for key, one in found.items() if not one.is_open}
        able = {key for key, start in truth.able_from.items() if start <= week}
        first_shown.update({key: week for key in whole if key not in first_shown})
        claimed, untrue = claimed + len(whole), untrue + len(whole - able)
        agreeing.append(1 - len(whole ^ able) / len(found))
        lately = courses((row for row in worked if not has_faded(row.on, friday)), friday)
        wanted = needs(names, found, lately, _goals_now(worked, friday), friday)
        groups = make_groups(wanted, size, GOALS)
        placed, true, hard = _placed(groups, truth, week, names)
        right.append(true / placed if placed else None)
        reached.append(true / hard if hard else None)
    return Match(
        weeks_to_match=_lasting(agreeing),
        delay=_delay(truth, first_shown, weeks),
        overstated=untrue / claimed if claimed else 0.0,
        grouped_right=tuple(right),
        reached=tuple(reached),
    )


def _goals_now(worked: Sequence[Worked], friday: date) -> set[str]:
    """Return the goals that the work of the last two weeks is about."""
    kinds = {row.kind for row in worked if friday - row.on < timedelta(weeks=2)}
    return {goal for goal, suited in GOALS.items() if kinds.intersection(suited)}


def _truth(chance: random.Random, names: Sequence[Child], weeks: int) -> Truth:
    return Truth(
        able_from={
            (child, goal): chance.randrange(weeks // 2) for child in names for goal in GOALS
        },
        mistake_until={
            (child, mistake): chance.randrange(weeks)
            for child in names
            for mistake in (Mistake(kind, name) for kind, name in MISTAKES.items())
            if chance.random() < 1 / 3
        },
    )


def _work(
    chance: random.Random,
    names: Sequence[Child],
    truth: Truth,
    week: int,
    shown: list[Shown],
    worked: list[Worked],
) -> date:
    start = Week.of(FIRST_MONDAY).shifted(week).monday
    days = list(school_days(start, start + timedelta(days=6)))
    kinds = list(dict.fromkeys(kind for goal in GOALS.values() for kind in goal))
    for place, day in enumerate(days):
        kind = kinds[(week * len(days) + place) % len(kinds)]
        for child in names:
            if chance.random() < SENDS:
                shown += [
                    Shown(
                        child, goal, _how(chance, truth, child, goal, week), day, kind, Help.ALONE
                    )
                    for goal, suited in GOALS.items()
                    if kind in suited
                ]
                worked.append(_worked(chance, truth, child, week, day, kind))
    return days[-1]


def _how(chance: random.Random, truth: Truth, child: Child, goal: str, week: int) -> How:
    able = truth.able_from[child, goal] <= week
    if chance.random() >= TAGGED_RIGHT:
        able = not able
    if able:
        return How.INDEPENDENTLY
    return chance.choice((How.NOT_YET, How.WITH_SUPPORT))


def _worked(
    chance: random.Random, truth: Truth, child: Child, week: int, day: date, kind: str
) -> Worked:
    mistake = MISTAKES.get(kind)
    if mistake is None:
        return Worked(child, day, kind)
    has = truth.mistake_until.get((child, Mistake(kind, mistake)), -1) >= week
    found = frozenset({mistake}) if has and chance.random() < SLIPS else frozenset()
    return Worked(child, day, kind, frozenset({mistake}), found)


def _placed(
    groups: Sequence[Group], truth: Truth, week: int, names: Sequence[Child]
) -> tuple[int, int, int]:
    hard: set[tuple[Child, Mistake | str]] = {
        (child, goal) for (child, goal), start in truth.able_from.items() if start > week
    }
    hard |= {key for key, last in truth.mistake_until.items() if last >= week}
    own = [
        (child, dict(group.also).get(child, group.why))
        for group in groups
        for child in group.children
    ]
    placed = [
        (child, need.mistake if need.kind else need.name)
        for child, need in own
        if need.reason in (Reason.MISTAKE, Reason.GOAL)
    ]
    return len(placed), len(hard & set(placed)), len({child for child, _ in hard})


def _lasting(agreeing: Sequence[float]) -> int | None:
    matched = None
    for week in reversed(range(len(agreeing))):
        if agreeing[week] < 0.9:
            break
        matched = week
    return matched


def _delay(truth: Truth, first_shown: Mapping[tuple[Child, str], int], weeks: int) -> float | None:
    delays = [
        max(0, week - truth.able_from[key])
        for key, week in first_shown.items()
        if truth.able_from[key] < weeks
    ]
    return median(delays) if delays else None

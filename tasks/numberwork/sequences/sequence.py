"""Drafting the days of one to three weeks on a focus."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tasks.numberwork.kinds import KINDS
from tasks.numberwork.prompt import CORE
from tasks.numberwork.sequences.drafting import Drafting, PartDraft, Use
from tasks.numberwork.sequences.returning import Returning
from tasks.numberwork.sequences.routes import ROUTES, Step

RANGES = (5, 10, 20, 50, 100, 200)
FEWEST_DAYS, MOST_DAYS = 5, 15
COUNTS = {
    "warm_up": 3,
    "number_of_the_day": 4,
    "quick_recall": 4,
    "main_task": 5,
    "try_at_home": 2,
}
COUNT_TO = {"twos": 20, "fives": 50, "tens": 100}
# Counts of the warm-up, smallest range first: a Reception class counts well past 20, in ones and
# then in tens, twos and fives (common practice, no source).
WARM_UPS = (
    ("counting-on-in-ones", 20),
    ("counting-back-in-ones", 10),
    ("counting-on-in-ones", 50),
    ("counting-on-in-tens", 100),
    ("counting-back-in-ones", 20),
    ("counting-on-in-twos", 20),
    ("counting-on-in-ones", 100),
    ("counting-on-in-fives", 50),
)


@dataclass(frozen=True, slots=True)
class DayDraft:
    """A drafted day, counted from 1; why: the step it takes on the route, and its source."""

    day: int
    why: str
    warm_up: PartDraft
    number_of_the_day: PartDraft
    quick_recall: PartDraft
    main_task: PartDraft
    try_at_home: PartDraft

    @property
    def parts(self) -> dict[str, PartDraft]:
        """Return the five parts by name, in the order of the day."""
        return {name: getattr(self, name) for name in COUNTS}


def plan_sequence(
    focus: str, days: int, within: int, seed: int, known: Iterable[str] | None = None
) -> tuple[DayDraft, ...]:
    """Draft *days* school days (5 to 15) on a focus, one small step after another.

    focus: a kind; its route is in ROUTES, with the source of its order. within: 5, 10, 20, 50,
    100 or 200; a kind that does not know that range takes the nearest smaller one it knows.
    known: kinds the class has met before (by default those the route builds on). Kinds that were
    met come back in quick recall at growing gaps (see `returning`). Facts that were not asked yet
    come before any other; no prompt comes twice within WINDOW days unless the range has too few.
    Equal arguments give equal drafts.

    Raises ValueError naming the argument and what is allowed.
    """
    if not isinstance(focus, str) or focus not in ROUTES:
        raise ValueError(f"focus must be one of {', '.join(ROUTES)}, not {focus!r}")
    if type(days) is not int or not FEWEST_DAYS <= days <= MOST_DAYS:
        raise ValueError(f"days must be from {FEWEST_DAYS} to {MOST_DAYS}, not {days!r}")
    if type(within) is not int or within not in RANGES:
        raise ValueError(f"within must be one of {', '.join(map(str, RANGES))}, not {within!r}")
    if type(seed) is not int:
        raise ValueError(f"seed must be a whole number, not {seed!r}")
    route = ROUTES[focus]
    met_before = route.before if known is None else tuple(known)
    if unknown := [name for name in met_before if name not in KINDS]:
        raise ValueError(f"known must be of {', '.join(KINDS)}, not {unknown[0]!r}")
    returning = Returning(met_before or route.before)
    steps = route.over(days)
    uses = [
        use
        for day, step in enumerate(steps, start=1)
        for use in _uses(day, step, within, returning)
    ]
    drafting = Drafting(seed, uses)
    return tuple(
        DayDraft(day, f"{_said(step)} ({route.source})", **drafting.parts(day))
        for day, step in enumerate(steps, start=1)
    )


def _uses(day: int, step: Step, within: int, returning: Returning) -> list[Use]:
    """List what the parts of a day are about."""
    recalled, depth = returning.on(day, step)
    warm_up, count_to = WARM_UPS[(day - 1) % len(WARM_UPS)]
    wanted: dict[str, tuple[str, int, str]] = {
        "warm_up": (warm_up, count_to, CORE),
        "number_of_the_day": ("number-of-the-day", min(within, 20), CORE),
        "quick_recall": (recalled, within, depth),
        "main_task": (step.kind, within, step.depth),
        "try_at_home": (step.kind, within, step.depth),
    }
    return [
        Use(day, part, kind, fitting_range(kind, size), depth, COUNTS[part])
        for part, (kind, size, depth) in wanted.items()
    ]


def fitting_range(kind: str, within: int) -> int:
    """Return the largest range of a kind up to *within*, or its smallest.

    Counts in steps go further than the numbers a class adds and shares: to COUNT_TO at least.
    """
    ranges = KINDS[kind].ranges
    most = max(within, COUNT_TO.get(kind.rpartition("-in-")[2], 0))
    return max((size for size in ranges if size <= most), default=ranges[0])


def _said(step: Step) -> str:
    """Name a step for a teacher."""
    return f"{KINDS[step.kind].title}, {step.depth}"

"""Drafting the days of one to three weeks on a focus."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from tasks.numberwork.kinds import EVERY_KIND, KINDS
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import CHALLENGE, CORE, DEPTHS, WITH_SUPPORT
from tasks.numberwork.sequences.drafting import PartDraft, Use, draft_parts
from tasks.numberwork.sequences.filling import Facts
from tasks.numberwork.sequences.ladder import SmallStep, ladder, walk
from tasks.numberwork.sequences.practice import Choice
from tasks.numberwork.sequences.returning import Returning
from tasks.numberwork.sequences.routes import BEYOND, ROUTES, Route, fitting_range

RANGES = (5, 10, 20, 50, 100, 200)
FEWEST_DAYS, MOST_DAYS = 5, 15
# How many prompts each part of a day asks, in the order of the day: about ten minutes in all (see
# `minutes`), and no more than eight to be answered. Four or five tell most mistakes apart, so the
# main task has one fewer where each takes a minute or more.
COUNTS = {
    "warm_up": 1,
    "main_task": 5,
    "number_of_the_day": 1,
    "quick_recall": 2,
    "try_at_home": 1,
}
A_MINUTE = 60
FEWEST = 4  # prompts of a main task
RECALLED_WITHIN = 10  # what a class of this age is to know by heart lies within ten
# Counts of the warm-up, said together, smallest range first: a Reception class counts well past
# 20, in ones and then in tens, twos and fives; back is harder (common practice, no source).
WARM_UPS = (
    ("counting-aloud-in-ones", 20, CORE),
    ("counting-aloud-in-ones", 10, CHALLENGE),
    ("counting-aloud-in-ones", 50, CORE),
    ("counting-aloud-in-tens", 100, CORE),
    ("counting-aloud-in-ones", 20, CHALLENGE),
    ("counting-aloud-in-twos", 20, CORE),
    ("counting-aloud-in-ones", 100, CORE),
    ("counting-aloud-in-fives", 50, CORE),
)


@dataclass(frozen=True, slots=True)
class DayDraft:
    """A drafted day, counted from 1; why: the step it takes on the route, and its source."""

    day: int
    why: str
    warm_up: PartDraft
    main_task: PartDraft
    number_of_the_day: PartDraft
    quick_recall: PartDraft
    try_at_home: PartDraft

    @property
    def parts(self) -> dict[str, PartDraft]:
        """Return the five parts by name, in the order of the day."""
        return {name: getattr(self, name) for name in COUNTS}


def plan_sequence(
    focus: str,
    days: int,
    within: int,
    seed: int,
    known: Iterable[str] | Facts | None = None,
) -> tuple[DayDraft, ...]:
    """Draft *days* school days (5 to 15) on a focus, one small step after another.

    focus: a kind; its route is in ROUTES, with the source of its order. within: 5, 10, 20, 50,
    100 or 200; a kind that does not know that range takes the nearest smaller one it knows.
    known: kinds the class has met before (by default those the route builds on), or for each the
    facts that a main task asked. Kinds that were met come back in quick recall at growing gaps
    (see `returning`), with facts that a main task asked on a day before. The main task has its
    four or five prompts every day, in a small range too: facts of the days before come back in
    another dress (see `filling`). Equal arguments give equal drafts.

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
    returning = Returning((*met_before, *(() if met_before else route.before)))
    steps = route.over(days, within)
    versions = {depth: versions_of(steps, depth) for depth in DEPTHS}
    uses = [
        use
        for day, step in enumerate(steps, start=1)
        for use in _uses(
            day,
            step,
            {depth: of_depth[day - 1] for depth, of_depth in versions.items()},
            within,
            returning,
            _at_home(route, steps, day, within),
            steps[: day - 1],
        )
    ]
    met = known if isinstance(known, Mapping) else {}
    return tuple(
        DayDraft(day, f"{said(step)} ({route.source})", **parts)
        for day, (step, parts) in enumerate(
            zip(steps, draft_parts(uses, seed, met), strict=True), start=1
        )
    )


def versions_of(steps: Sequence[SmallStep], depth: str) -> list[SmallStep]:
    """Return what a group at *depth* does on each day: as far on within its own steps."""
    found = list(steps)
    for kind, within in dict.fromkeys((step.kind, step.within) for step in steps):
        places = [
            place for place, step in enumerate(steps) if (step.kind, step.within) == (kind, within)
        ]
        own = walk(ladder(kind, within, (depth,)), len(places))
        for place, step in zip(places, own, strict=True):
            found[place] = step
    return found


def _at_home(route: Route, steps: Sequence[SmallStep], day: int, within: int) -> SmallStep:
    """Return what is tried at home on a day: the main task with things, or what the route names.

    The latter on the first two days of the focus.
    """
    own = [place for place, step in enumerate(steps, start=1) if step.kind == route.focus]
    if route.at_home and day in own[:2]:
        return SmallStep(route.at_home, fitting_range(route.at_home, within), WITH_SUPPORT)
    return steps[day - 1]


def _uses(
    day: int,
    step: SmallStep,
    versions: Mapping[str, SmallStep],
    within: int,
    returning: Returning,
    home: SmallStep,
    steps_before: Sequence[SmallStep],
) -> list[Use]:
    """List what the parts of a day are about."""
    recalled, depth = returning.on(day, step)
    warm_up, count_to, how = WARM_UPS[(day - 1) % len(WARM_UPS)]
    # Two parts are done together: nobody types anything there.
    together = {"warm_up": (warm_up, count_to, how)}
    together["number_of_the_day"] = ("number-of-the-day-shown", min(within, 20), CORE)
    wanted = {
        part: Choice(kind, fitting_range(kind, reach), count_of(part, kind), at)
        for part, (kind, reach, at) in together.items()
    }
    wanted["main_task"] = _choice("main_task", step)
    # What comes from before these days is recalled in small numbers, whatever is new today.
    own = recalled in {each.kind for each in (step, *steps_before)}
    reach = fitting_range(recalled, within if own else min(within, RECALLED_WITHIN))
    wanted["quick_recall"] = Choice(recalled, reach, count_of("quick_recall", recalled), depth)
    wanted["try_at_home"] = _choice("try_at_home", home)
    count = wanted["main_task"].count
    depths = {
        depth: replace(_choice("main_task", each), count=count) for depth, each in versions.items()
    }
    return [
        Use(
            day,
            part,
            wanted[part],
            explains=part == "main_task" and step.explains,
            versions=depths if part == "main_task" else {},
        )
        for part in COUNTS
    ]


def _choice(part: str, step: SmallStep) -> Choice:
    """Return what a part draws of a step."""
    asks = pool_of(step.kind, step.within, step.depth).asks
    own = sum(step.only.allows(ask) for ask in asks)
    count = min(count_within(part, step.kind, step.within), max(FEWEST, own))
    return Choice(step.kind, step.within, count, step.depth, only=step.only)


def count_of(part: str, kind: str) -> int:
    """Return how many prompts of *kind* a drafted day asks in *part*.

    >>> count_of("main_task", "doubling"), count_of("main_task", "halving")
    (5, 4)
    """
    long = part == "main_task" and EVERY_KIND[kind].seconds >= A_MINUTE
    return COUNTS[part] - 1 if long else COUNTS[part]


def count_within(part: str, kind: str, within: int) -> int:
    """Return how many prompts a drafted day asks in *part*: one fewer than there are at all.

    So something is left for the other parts of the day.
    """
    pools = (pool_of(kind, within, depth) for depth in DEPTHS)
    there = len({key for pool in pools for key in pool.keys})
    return min(count_of(part, kind), max(FEWEST, there - 1))


def said(step: SmallStep) -> str:
    """Name a step for a teacher: kind, depth, which way of asking, how far, and if explained.

    >>> from tasks.numberwork.sequences.only import Only
    >>> said(SmallStep("halving", 20, "core", Only(("equals first",), (), 0, 10)))
    'Halving, core: the box first: □ = half of 8; numbers up to 10'
    """
    kind = KINDS[step.kind]
    words = [kind.forms[form] for form in step.only.forms if form in kind.forms]
    words = [text[:1].lower() + text[1:] for text in words]
    if step.only.least:
        words.append(f"numbers from {step.only.least} to {step.only.most}")
    elif step.only.most:
        words.append(f"numbers up to {step.only.most}")
    if step.explains:
        words.append("explained: how do you know?")
    if step.kind in BEYOND:
        words.append(BEYOND[step.kind])
    named = f"{kind.title}, {step.depth}"
    return f"{named}: {'; '.join(words)}" if words else named

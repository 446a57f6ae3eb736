"""Where evidence is thin, and which work would give what is missing."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from .rows import Child
from .strength import Missing, Strength


@dataclass(frozen=True, slots=True)
class Gap:
    """A goal one child's evidence is thin on: what there is, and the kinds that would help."""

    child: Child
    goal: str
    found: Strength
    kinds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GoalGap:
    """A goal across a class: who has shown it, who was never asked, what to set for most of them.

    have_shown: those who showed it on any day, in any way but "not yet". never_asked: of the
    others, those whom no work so far could have shown it of. kinds pairs each helpful kind with
    the number of children it would help, most first.
    """

    goal: str
    children: int
    have_shown: tuple[Child, ...]
    never_asked: tuple[Child, ...]
    open_for: tuple[Child, ...]
    kinds: tuple[tuple[str, int], ...]


def suggest_kinds(found: Strength, goal_kinds: Sequence[str], most: int = 3) -> tuple[str, ...]:
    """Return up to *most* kinds of work that would give what *found* is missing, best first.

    What is mixed is settled by the kind it went wrong in; variety comes from kinds not yet
    used; what is old comes again in the kind seen longest ago; otherwise the goal's own
    order holds. Nothing missing, nothing suggested. Common practice, no source.
    """
    unused = [kind for kind in goal_kinds if kind not in found.kinds]
    wanted: list[str] = []
    if Missing.SETTLING in found.missing:
        wanted += found.against
    if Missing.VARIETY in found.missing:
        wanted += unused
    if Missing.LATELY in found.missing:
        wanted += found.kinds
    if found.missing:
        wanted += goal_kinds
    suited = (kind for kind in dict.fromkeys(wanted) if kind in goal_kinds)
    return tuple(suited)[:most]


def gaps(
    found: Mapping[tuple[Child, str], Strength], goals: Mapping[str, Sequence[str]]
) -> tuple[Gap, ...]:
    """List every child's goals with something missing, in the order of *found*.

    goals maps each code to the kinds that can show it; a goal no kind can show is no gap,
    as no work set at home would close it. That evidence is old is no gap either: nothing in it
    was missing when it was seen.
    """
    return tuple(
        Gap(child, goal, weighed, suggest_kinds(weighed, goals[goal]))
        for (child, goal), weighed in found.items()
        if weighed.is_open and goals.get(goal)
    )


def goal_gaps(
    found: Mapping[tuple[Child, str], Strength],
    goals: Mapping[str, Sequence[str]],
    asked: Collection[tuple[Child, str]],
) -> tuple[GoalGap, ...]:
    """Gather the gaps of a class under each goal, in the order of *goals*.

    asked: the children and goals of which work that could show them was set.
    """
    return tuple(_goal_gap(found, goal, kinds, asked) for goal, kinds in goals.items())


def _goal_gap(
    found: Mapping[tuple[Child, str], Strength],
    goal: str,
    kinds: Sequence[str],
    asked: Collection[tuple[Child, str]],
) -> GoalGap:
    here = {child: weighed for (child, code), weighed in found.items() if code == goal}
    lacking = [weighed for weighed in here.values() if weighed.is_open]
    helped = Counter(kind for weighed in lacking for kind in suggest_kinds(weighed, kinds))
    by_use = sorted(helped.items(), key=lambda pair: (-pair[1], kinds.index(pair[0])))
    return GoalGap(
        goal=goal,
        children=len(here),
        have_shown=tuple(child for child, weighed in here.items() if weighed.days),
        never_asked=tuple(
            child
            for child, weighed in here.items()
            if not weighed.count and (child, goal) not in asked
        ),
        open_for=tuple(child for child, weighed in here.items() if weighed.is_open),
        kinds=tuple(by_use),
    )

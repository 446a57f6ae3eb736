"""Groups for next week: children who need the same thing next, together."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from .needs import Need, Reason
from .rows import Child

SMALLEST = 2
# What a child finds hard is placed before any chair is filled to see more of something.
STAGES = ((Reason.MISTAKE, Reason.GOAL), (Reason.SEE_MORE,))


@dataclass(frozen=True, slots=True)
class Group:
    """Children to work together, in roster order, and why.

    why is a need all of them share; "own next steps" where nobody was left to share one
    with, "going on" where nothing is open. A group is neither above nor below another.
    """

    children: tuple[Child, ...]
    why: Need


def make_groups(wanted: Mapping[Child, Sequence[Need]], size: int) -> tuple[Group, ...]:
    """Place every child of *wanted* in exactly one group of at most *size*.

    wanted: for each child, in roster order, the needs in order. Again and again the need
    that is first for most of the children left makes the next groups; chairs left empty
    are filled with children who have it further down. Same rows, same groups.
    ValueError for a size below 2.
    Common practice (flexible groups by shared next step), no source.
    """
    if size < SMALLEST:
        raise ValueError(f"a group holds {SMALLEST} or more, not {size}")
    groups: list[Group] = []
    left = dict(wanted)
    for reasons in STAGES:
        open_needs = {
            child: [need for need in needs if need.reason in reasons]
            for child, needs in left.items()
        }
        while (together := _next(open_needs, size)) is not None:
            need, children = together
            groups += [Group(part, need) for part in _parts(children, size)]
            for child in children:
                del open_needs[child], left[child]
    for reason, rest in (
        (Reason.OWN_STEPS, tuple(child for child, needs in left.items() if needs)),
        (Reason.GOING_ON, tuple(child for child, needs in left.items() if not needs)),
    ):
        groups += [Group(part, Need(reason)) for part in _parts(rest, size)]
    return tuple(groups)


def _next(left: Mapping[Child, Sequence[Need]], size: int) -> tuple[Need, tuple[Child, ...]] | None:
    having = Counter(need for needs in left.values() for need in set(needs))
    first = {
        child: need
        for child, needs in left.items()
        if (need := next((need for need in needs if having[need] >= SMALLEST), None))
    }
    if not first:
        return None
    asked = Counter(first.values())
    chosen = min(asked, key=lambda need: (-asked[need], need.reason, need.name))
    others = [child for child in left if chosen in left[child] and first[child] != chosen]
    others.sort(key=lambda child: left[child].index(chosen))
    chairs = max(SMALLEST, size * ceil(asked[chosen] / size)) - asked[chosen]
    seated = {child for child, need in first.items() if need == chosen} | set(others[:chairs])
    return chosen, tuple(child for child in left if child in seated)


def _parts(children: tuple[Child, ...], size: int) -> list[tuple[Child, ...]]:
    parts = ceil(len(children) / size)
    if not parts:
        return []
    least, more = divmod(len(children), parts)
    ends = [least * (part + 1) + min(part + 1, more) for part in range(parts)]
    return [children[start:end] for start, end in zip([0, *ends], ends, strict=False)]

"""Groups for next week: children who need the same thing next, together."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from .needs import Need, Reason
from .rows import Child

SMALLEST = 2
# A mistake that stayed comes before any goal, and what a child finds hard before more of the same.
STAGES = ((Reason.MISTAKE,), (Reason.GOAL,), (Reason.SEE_MORE,))


@dataclass(frozen=True, slots=True)
class Group:
    """Children to work together, in roster order, and why.

    why is a need all of them share, or for children who joined one near to their own; "own next
    steps" where nobody was left to share one with, "going on" where nothing is open. also: for
    each child whose first need is another than *why*, that need. A group is neither above nor
    below another.
    """

    children: tuple[Child, ...]
    why: Need
    also: tuple[tuple[Child, Need], ...] = ()


def make_groups(
    wanted: Mapping[Child, Sequence[Need]], size: int, kinds: Mapping[str, Sequence[str]]
) -> tuple[Group, ...]:
    """Place every child of *wanted* in exactly one group of at most *size*.

    wanted: for each child, in roster order, the needs in order. kinds: by a goal's code, the
    kinds of work that show it. Each child goes where its first need that another shares is
    worked on; who shares none joins a group near to it, about the same kind of work, or sits with
    others alike, or alone. The first need of every child is named in its group, as `why` or in
    `also`: none is dropped as one child's only. Same rows, same groups.
    ValueError for a size below 2. Common practice (flexible groups by shared next step), no source.
    """
    if size < SMALLEST:
        raise ValueError(f"a group holds {SMALLEST} or more, not {size}")
    left = dict(wanted)
    seated: dict[Need, list[Child]] = {}
    for reasons in STAGES:
        open_needs = {
            child: [need for need in needs if need.reason in reasons]
            for child, needs in left.items()
        }
        while (together := _next(open_needs)) is not None:
            need, children = together
            seated[need] = [*seated.get(need, ()), *children]
            for child in children:
                del open_needs[child], left[child]
    for child, needs in list(left.items()):
        near = _nearest(needs[0], seated, size, kinds) if needs else None
        if near is not None:
            seated[near].append(child)
            del left[child]
    groups = [
        _group(part, need, wanted)
        for need, children in seated.items()
        for part in _parts(tuple(child for child in wanted if child in children), size)
    ]
    own = tuple(child for child, needs in left.items() if needs)
    going_on = tuple(child for child, needs in left.items() if not needs)
    groups += [_of_own_steps(part, wanted) for part in _parts(own, size)]
    groups += [Group(part, Need(Reason.GOING_ON)) for part in _parts(going_on, size)]
    return tuple(groups)


def _next(left: Mapping[Child, Sequence[Need]]) -> tuple[Need, tuple[Child, ...]] | None:
    """Return the need that most of the children left have first, of those two share, and who."""
    having = Counter(need for needs in left.values() for need in set(needs))
    first = {
        child: need
        for child, needs in left.items()
        if (need := next((need for need in needs if having[need] >= SMALLEST), None))
    }
    if not first:
        return None
    asked = Counter(first.values())
    chosen = min(asked, key=lambda need: (-asked[need], need.reason, need.name, need.kind))
    if asked[chosen] < SMALLEST:  # then each who has it comes, wherever it stands among theirs
        return chosen, tuple(child for child, needs in left.items() if chosen in needs)
    return chosen, tuple(child for child, need in first.items() if need == chosen)


def _nearest(
    need: Need,
    seated: Mapping[Need, Sequence[Child]],
    size: int,
    kinds: Mapping[str, Sequence[str]],
) -> Need | None:
    """Return what a group with an empty chair works on that shares most kinds of work; or None."""
    own = _kinds_of(need, kinds)
    shared = {
        other: len(own & _kinds_of(other, kinds))
        for other, children in seated.items()
        if len(children) % size
    }
    near = max(shared, key=lambda other: shared[other], default=None)
    return near if near and shared[near] else None


def _kinds_of(need: Need, kinds: Mapping[str, Sequence[str]]) -> set[str]:
    return {need.kind} if need.kind else set(kinds.get(need.name, ()))


def _group(children: tuple[Child, ...], why: Need, wanted: Mapping[Child, Sequence[Need]]) -> Group:
    first = ((child, wanted[child][0]) for child in children)
    return Group(children, why, tuple((child, need) for child, need in first if need != why))


def _of_own_steps(children: tuple[Child, ...], wanted: Mapping[Child, Sequence[Need]]) -> Group:
    alone = len(children) == 1
    return _group(children, wanted[children[0]][0] if alone else Need(Reason.OWN_STEPS), wanted)


def _parts(children: tuple[Child, ...], size: int) -> list[tuple[Child, ...]]:
    parts = ceil(len(children) / size)
    if not parts:
        return []
    least, more = divmod(len(children), parts)
    ends = [least * (part + 1) + min(part + 1, more) for part in range(parts)]
    return [children[start:end] for start, end in zip([0, *ends], ends, strict=False)]

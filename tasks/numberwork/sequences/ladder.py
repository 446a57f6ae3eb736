"""The small steps within one kind: smaller numbers to larger, things to signs, then explained."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import DEPTHS, WITH_SUPPORT
from tasks.numberwork.sequences.only import EVERYTHING, Only, size

ENOUGH = 4  # different questions that a step has at least, where the kind has as many


@dataclass(frozen=True, slots=True)
class SmallStep:
    """What one day's main task is: a kind in a range at a depth, what of it, and how.

    explains: the child is asked each time how it knows, and for another way.
    """

    kind: str
    within: int
    depth: str
    only: Only = EVERYTHING
    explains: bool = False


def walk(steps: Sequence[SmallStep], days: int) -> tuple[SmallStep, ...]:
    """Return the step of each of *days*, in order and spread evenly, first and last among them.

    Where there are fewer steps than days, each comes again and is explained then: the day after,
    or where all are of one depth after the last of them, so that no two days are the same.
    """
    if not days:
        return ()
    while len(steps) < days:
        steps = _twice(steps)
    most = len(steps) - 1
    places = [round(day * most / max(1, days - 1)) for day in range(days)]
    walked: list[SmallStep] = []
    for step in (steps[place] for place in places):
        same = walked[-1:] == [step]
        walked.append(replace(step, explains=not step.explains) if same else step)
    return tuple(walked)


def _twice(steps: Sequence[SmallStep]) -> list[SmallStep]:
    """Let each step come once more, the other way: explained, or now without."""
    again = [replace(step, explains=not step.explains) for step in steps]
    if len({step.depth for step in steps}) == 1:
        return [*steps, *again]
    return [step for both in zip(steps, again, strict=True) for step in both]


@lru_cache(maxsize=512)
def ladder(kind: str, within: int, depths: tuple[str, ...] = DEPTHS) -> tuple[SmallStep, ...]:
    """List the steps of a kind in a range: its depths in order, each way of asking by itself.

    At each depth the ways that were met before come first, then each new one; what comes first is
    asked with smaller numbers and then with larger ones. A depth ends with all its ways, explained;
    the first, with support, does not. The order of the ways is the kind's own (common practice, no
    source).
    """
    steps: list[SmallStep] = []
    met: set[str] = set()
    for depth in depths:
        in_pool = {ask.form for ask in pool_of(kind, within, depth).asks}
        forms = [form for form in EVERY_KIND[kind].forms if form in in_pool]
        for turn, group in enumerate(_groups(forms, met)):
            parts = 3 if len(depths) == 1 else 2 if turn == 0 else 1
            steps += _by_size(kind, within, depth, tuple(group), parts)
        met.update(forms)
        if depth != WITH_SUPPORT or len(depths) == 1:
            steps.append(SmallStep(kind, within, depth, explains=True))
    return tuple(dict.fromkeys(steps))


def _groups(forms: Sequence[str], met: set[str]) -> Iterator[list[str]]:
    """Yield the ways met before together, then each new one; many new ones by twos."""
    if old := [form for form in forms if form in met]:
        yield old
    new = [form for form in forms if form not in met]
    each = 1 if len(new) <= 3 else 2
    for place in range(0, len(new), each):
        yield new[place : place + each]


def _by_size(
    kind: str, within: int, depth: str, forms: tuple[str, ...], parts: int
) -> Iterator[SmallStep]:
    """Yield a way of asking in *parts* steps: with smaller numbers first, and then larger ones.

    It is one step where there is too little to part.
    """
    asks = [ask for ask in pool_of(kind, within, depth).asks if ask.form in forms]
    sizes = sorted(size(ask) for ask in asks)
    smaller = [reach for reach in EVERY_KIND[kind].ranges if reach < within]
    if sizes[0] == sizes[-1] and sizes[0] and smaller and parts > 1:
        reach = smaller[-1]
        there = {ask.form for ask in pool_of(kind, reach, depth).asks}
        yield SmallStep(kind, reach, depth, Only(tuple(form for form in forms if form in there)))
    for least, most in _windows(sizes, parts, smaller):
        yield SmallStep(kind, within, depth, Only(forms, (), least, most))


def _windows(
    sizes: Sequence[int], parts: int, smaller: Sequence[int]
) -> tuple[tuple[int, int], ...]:
    """Return from what to what size each of *parts* goes; they overlap, and none is too small.

    sizes: of every question, in order. smaller: the smaller ranges, of which the first part is one
    where that is enough. (0, 0) alone where there is too little to part.
    """
    different = sorted(set(sizes))
    for width in range(max(2, round(len(different) * 2 / (parts + 1))), len(different)):
        starts = [
            round((len(different) - width) * part / max(1, parts - 1)) for part in range(parts)
        ]
        windows = [(different[start], different[start + width - 1]) for start in starts]
        windows[0] = (0, _reach(sizes, smaller, windows[0][1]))
        if parts > 1 and all(_fits(sizes, window) for window in windows):
            return tuple(dict.fromkeys(windows))
    return ((0, 0),)


def _reach(sizes: Sequence[int], smaller: Sequence[int], otherwise: int) -> int:
    """Return the largest smaller range that has enough: people say "up to ten" and not fourteen."""
    enough = [reach for reach in smaller if _fits(sizes, (0, reach))]
    return enough[-1] if enough else otherwise


def _fits(sizes: Sequence[int], window: tuple[int, int]) -> bool:
    """Tell whether a window has questions enough for a set."""
    least, most = window
    return sum(least <= each <= most for each in sizes) >= ENOUGH

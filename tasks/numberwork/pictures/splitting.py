"""Cutting an outline in two along a path, and measuring the pieces."""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from tasks.numberwork.pictures.ink import Point

NEAR = 1e-9


class Crossing(NamedTuple):
    """Where a path meets an outline: how far along each, and the point."""

    along_path: float
    along_outline: float
    point: Point


def area(outline: Sequence[Point]) -> float:
    """Return the area within *outline* by the shoelace rule, in square units.

    >>> area([(0, 0), (4, 0), (4, 3), (0, 3)])
    12.0
    """
    follower = [*outline[1:], outline[0]]
    twice = sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(outline, follower, strict=True))
    return abs(twice) / 2


def _meet(p: Point, q: Point, a: Point, b: Point) -> tuple[float, float] | None:
    """Return how far along p-q and a-b (0 to 1) the two strokes meet, or None."""
    px, py, ax, ay = q[0] - p[0], q[1] - p[1], b[0] - a[0], b[1] - a[1]
    spread = px * ay - py * ax
    if abs(spread) < NEAR:
        return None
    t = ((a[0] - p[0]) * ay - (a[1] - p[1]) * ax) / spread
    u = ((a[0] - p[0]) * py - (a[1] - p[1]) * px) / spread
    return (t, u) if -NEAR <= t <= 1 + NEAR and -NEAR <= u <= 1 + NEAR else None


def crossings(outline: Sequence[Point], path: Sequence[Point]) -> list[Crossing]:
    """List where *path* meets *outline*, in the order of the path, a corner counting once."""
    found: list[Crossing] = []
    for step, (p, q) in enumerate(pairwise(path)):
        for side, a in enumerate(outline):
            met = _meet(p, q, a, outline[(side + 1) % len(outline)])
            if met is not None:
                t, u = met
                point = (p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]))
                found.append(Crossing(step + t, side + u, point))
    found.sort()
    once: list[Crossing] = []
    for crossing in found:
        if not once or crossing.along_path - once[-1].along_path > 1e-6:
            once.append(crossing)
    return once


def split(
    outline: Sequence[Point], path: Sequence[Point]
) -> tuple[tuple[Point, ...], tuple[Point, ...], tuple[Point, ...]]:
    """Cut *outline* along *path*; give the two pieces and the cut itself.

    The path goes in at one place and out at another. Raises ValueError where it does not.
    """
    met = crossings(outline, path)
    if len(met) != 2:
        raise ValueError(f"a cut meets the outline twice, not {len(met)} times: {path!r}")
    enters, leaves = met
    inner = [
        point
        for step, point in enumerate(path)
        if enters.along_path + NEAR < step < leaves.along_path - NEAR
    ]
    cut = (enters.point, *inner, leaves.point)
    first = (*cut, *_between(outline, leaves.along_outline, enters.along_outline))
    second = (*reversed(cut), *_between(outline, enters.along_outline, leaves.along_outline))
    return first, second, cut


def _between(outline: Sequence[Point], start: float, end: float) -> list[Point]:
    """List the corners met going round from *start* to *end*, without the ends themselves."""
    count = len(outline)
    span = (end - start) % count
    corners = [(corner - start) % count for corner in range(count)]
    inside = sorted((far, corner) for corner, far in enumerate(corners) if NEAR < far < span - NEAR)
    return [outline[corner] for _, corner in inside]

"""Read a picture's SVG back: its elements, and how far its ink reaches."""

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple
from xml.etree.ElementTree import Element

from defusedxml.ElementTree import fromstring

from tasks.numberwork.pictures import Picture

SVG = "{http://www.w3.org/2000/svg}"
_STEP = re.compile(r"([A-Za-z])([^A-Za-z]*)")


class Extent(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float


def read(picture: Picture) -> Element:
    """Parse a picture's SVG."""
    return fromstring(picture.svg())


def dots(picture: Picture, hollow: bool | None = None) -> list[tuple[float, float, float]]:
    """List x, y and radius of every circle; only outlines or only solid ones when asked."""
    circles = [
        circle
        for circle in read(picture).iter(f"{SVG}circle")
        if hollow is None or hollow == (circle.get("fill") is None)
    ]
    return [(float(c.get("cx")), float(c.get("cy")), float(c.get("r"))) for c in circles]


def sheet_size(root: Element) -> tuple[float, float]:
    """Return width and height of the viewBox, which starts at 0 0."""
    left, top, width, height = map(float, root.get("viewBox").split())
    assert (left, top) == (0, 0)
    return width, height


def extent(root: Element) -> Extent:
    """Return the box of all ink, half the stroke width included."""
    lefts, tops, rights, bottoms = zip(*_extents(root), strict=True)
    return Extent(min(lefts), min(tops), max(rights), max(bottoms))


def _extents(root: Element) -> Iterator[Extent]:
    for element in root.iter():
        half = float(element.get("stroke-width", root.get("stroke-width"))) / 2
        for x, y, reach_x, reach_y in _reaches(element):
            yield Extent(
                x - reach_x - half, y - reach_y - half, x + reach_x + half, y + reach_y + half
            )


def _reaches(element: Element) -> Iterator[tuple[float, float, float, float]]:
    """Return points of an element with how far its ink goes to each side of them."""
    kind = element.tag.removeprefix(SVG)

    def length(name: str) -> float:
        return float(element.get(name))

    if kind == "circle":
        yield length("cx"), length("cy"), length("r"), length("r")
    elif kind == "rect":
        yield length("x"), length("y"), 0, 0
        yield length("x") + length("width"), length("y") + length("height"), 0, 0
    elif kind == "line":
        yield length("x1"), length("y1"), 0, 0
        yield length("x2"), length("y2"), 0, 0
    elif kind == "text":
        yield length("x"), length("y"), length("font-size") * len(element.text) / 2, 0
    elif kind == "path":
        for x, y in path_points(element.get("d")):
            yield x, y, 0, 0
    else:
        assert kind in ("svg", "title"), f"an element this reader does not know: {kind}"


def path_points(data: str) -> Iterator[tuple[float, float]]:
    """Return points all along absolute path data; an arc as the box of a full circle about it."""
    at = (0.0, 0.0)
    for step in _STEP.finditer(data):
        numbers = [float(word) for word in step[2].split()]
        assert step[1] in "MLQCAZ", f"a step this reader does not know: {step[1]}"
        if step[1] == "A":
            radius, end = numbers[0], (numbers[5], numbers[6])
            middle = ((at[0] + end[0]) / 2, (at[1] + end[1]) / 2)
            yield from ((middle[0] + s * radius, middle[1] + s * radius) for s in (-1, 1))
            numbers = list(end)
        pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
        if step[1] in "QC":
            yield from (_on_curve([at, *pairs], n / 40) for n in range(41))
        else:
            yield from pairs
        if pairs:
            at = pairs[-1]


def _on_curve(points: list[tuple[float, float]], t: float) -> tuple[float, float]:
    """Return the point at *t* of the Bezier curve with these points, by de Casteljau's rule."""
    while len(points) > 1:
        points = [
            (ax + t * (bx - ax), ay + t * (by - ay)) for (ax, ay), (bx, by) in pairwise(points)
        ]
    return points[0]

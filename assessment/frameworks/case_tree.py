"""Puts the items of a CASE package in reading order, from its isChildOf associations."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from .case_fields import Record, names
from .framework import FrameworkError

DEEPEST = 30
ROOT = -1


@dataclass(frozen=True, slots=True)
class Placed:
    """An item's place: its index in the file, those it stands under from the top, its children."""

    index: int
    above: tuple[int, ...]
    children: tuple[int, ...]


def reading_order(
    document: Record, items: Sequence[Record], associations: Sequence[Record]
) -> list[Placed]:
    """Return every item once, parents before children, those under one parent by sequenceNumber.

    An item nobody places, or placed only under itself or in a ring, hangs under the
    document. An item placed twice stays with the first parent in the file.
    Raises FrameworkError when the tree is more than 30 deep.

    Source: CASE 1.0 and 1.1, isChildOf: origin is the child, destination the parent.
    """
    parents = _parents(document, items, associations)
    _open_rings(parents)
    children: dict[int, list[int]] = defaultdict(list)
    for child in sorted(parents, key=lambda index: (parents[index][1], index)):
        children[parents[child][0]].append(child)
    return _walk(children)


def _parents(
    document: Record, items: Sequence[Record], associations: Sequence[Record]
) -> dict[int, tuple[int, float]]:
    known = {name: index for index, item in enumerate(items) for name in names(item)}
    known.update(dict.fromkeys(names(document), ROOT))
    found: dict[int, tuple[int, float]] = {}
    for association in associations:
        if association.get("associationType") != "isChildOf":
            continue
        child = _first(known, association.get("originNodeURI"))
        parent = _first(known, association.get("destinationNodeURI"))
        if child not in (None, ROOT, parent) and parent is not None and child not in found:
            found[child] = (parent, _sequence(association.get("sequenceNumber")))
    return {index: found.get(index, (ROOT, float("inf"))) for index in range(len(items))}


def _first(known: dict[str, int], node: Any) -> Any:
    return next((known[name] for name in names(node) if name in known), None)


def _sequence(value: Any) -> float:
    try:
        number = float(value)
    except (TypeError, ValueError, OverflowError):
        return float("inf")
    return number if number == number else float("inf")


def _open_rings(parents: dict[int, tuple[int, float]]) -> None:
    sound = {ROOT}
    for start in parents:
        path: set[int] = set()
        index = start
        while index not in sound and index not in path:
            path.add(index)
            index = parents[index][0]
        if index not in sound:
            parents[index] = (ROOT, parents[index][1])
        sound.update(path)


def _walk(children: dict[int, list[int]]) -> list[Placed]:
    order: list[Placed] = []
    waiting: list[tuple[int, tuple[int, ...]]] = [(index, ()) for index in reversed(children[ROOT])]
    while waiting:
        index, above = waiting.pop()
        if len(above) >= DEEPEST:
            raise FrameworkError(
                f"CFAssociations: items stand more than {DEEPEST} deep; give a flatter tree."
            )
        below = children.get(index, [])
        order.append(Placed(index, above, tuple(below)))
        waiting.extend((child, (*above, index)) for child in reversed(below))
    return order

"""Sizes of paper, in millimetres."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

# Printers leave up to 6 mm blank, and a page printed on the other size may be cut by 9 mm a side.
MARGIN = 15.0


class Paper(NamedTuple):
    """One size of paper, upright: its name, its words, width and height in millimetres."""

    name: str
    label: str
    width: float
    height: float


A4 = Paper("a4", "A4", 210.0, 297.0)  # ISO 216
LETTER = Paper("letter", "US Letter", 215.9, 279.4)  # ANSI/ASME Y14.1, size A

PAPERS: Mapping[str, Paper] = MappingProxyType({paper.name: paper for paper in (A4, LETTER)})

"""Number sentences on paper: every □ becomes a box large enough for a child to write in."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from tasks.printing.layout.letters import printable, runs_from_right, without_marks, words_of
from tasks.printing.layout.pages import POINT, Pages, tall
from tasks.printing.layout.strokes import frame

BOX = 11.5  # millimetres: a numeral of a four-year-old goes in
GAP = 2.0
SHORT, MIDDLING = 14, 30  # letters of a sentence
SIZES = (23.0, 17.0, 13.0)  # points, of short, middling and long ones

_ATOMS = re.compile("□|[^□]+")


@dataclass(frozen=True, slots=True)
class Laid:
    """A sentence broken into rows of words; a word is a tuple of texts and boxes (□)."""

    rows: tuple[tuple[tuple[str, ...], ...], ...]
    size: float
    boxes: int

    def row_height(self, row: tuple[tuple[str, ...], ...]) -> float:
        """Return the height of one of its rows in millimetres."""
        has_box = any("□" in word for word in row)
        return max(tall(self.size), BOX + GAP if has_box else 0)

    @property
    def height(self) -> float:
        """Return the height of it all in millimetres."""
        return sum(map(self.row_height, self.rows))


def size_for(sentence: str) -> float:
    """Return the size of letters for *sentence*, in points: the shorter the larger."""
    length = len(sentence)
    return SIZES[0] if length <= SHORT else SIZES[1] if length <= MIDDLING else SIZES[2]


def lay(pages: Pages, sentence: str, boxes: int, width: float, largest: float = SIZES[0]) -> Laid:
    """Break *sentence* into rows no wider than *width*; each □ stands for *boxes* boxes.

    *largest*: the size of the largest letters, in points.
    """
    size = min(size_for(sentence), largest)
    space = pages.measure(" ", size)
    rows: list[list[tuple[str, ...]]] = [[]]
    used = 0.0
    for written in _words(pages, sentence):
        word = tuple(_ATOMS.findall(written))
        wide = _width(pages, word, size, boxes)
        if rows[-1] and used + space + wide > width:
            rows.append([])
            used = 0.0
        used += wide + (space if rows[-1] else 0)
        rows[-1].append(word)
    return Laid(tuple(map(tuple, rows)), size, boxes)


def widest(pages: Pages, laid: Laid) -> float:
    """Return the width of the widest word, which no row can break."""
    words = (word for row in laid.rows for word in row)
    return max((_width(pages, word, laid.size, laid.boxes) for word in words), default=0.0)


def longest(pages: Pages, laid: Laid) -> float:
    """Return the width of the longest row."""
    return max((_row_width(pages, laid, row) for row in laid.rows), default=0.0)


def _row_width(pages: Pages, laid: Laid, row: Sequence[tuple[str, ...]]) -> float:
    spaces = pages.measure(" ", laid.size) * (len(row) - 1)
    return sum(_width(pages, word, laid.size, laid.boxes) for word in row) + spaces


def _words(pages: Pages, sentence: str) -> list[str]:
    """Split a sentence into words; on a page from the right, one of numbers alone stays whole."""
    if pages.from_right and not runs_from_right(sentence):
        return [without_marks(printable(sentence))]
    return words_of(sentence)


def write(pages: Pages, laid: Laid, x: float, y: float, width: float) -> None:
    """Write a sentence that was laid out, each row centred in *width*, from y down."""
    space = pages.measure(" ", laid.size)
    for row in laid.rows:
        at = x + (width - _row_width(pages, laid, row)) / 2
        for word in row:
            at = _write_word(pages, laid, word, at, y + laid.row_height(row) / 2) + space
        y += laid.row_height(row)


def _write_word(pages: Pages, laid: Laid, word: Sequence[str], x: float, y: float) -> float:
    """Write one word from x, its letters and boxes centred on y, and give the x after it."""
    end = x + _width(pages, word, laid.size, laid.boxes)
    for atom in word[::-1] if pages.from_right and not any(map(runs_from_right, word)) else word:
        if atom == "□":
            for place in range(laid.boxes):
                frame(pages, x + place * (BOX + GAP), y - BOX / 2, BOX, BOX)
        else:
            pages.text(x, y - laid.size * POINT * 0.61, atom, laid.size)
        x += _width(pages, (atom,), laid.size, laid.boxes)
    return end


def _width(pages: Pages, word: Sequence[str], size: float, boxes: int) -> float:
    box = boxes * (BOX + GAP) - GAP
    return sum(box if atom == "□" else pages.measure(atom, size) for atom in word)

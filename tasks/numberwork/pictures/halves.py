"""Shapes cut in two, to judge whether each piece is half: the areas are measured."""

from dataclasses import dataclass
from functools import cache

from tasks.numberwork.pictures.cuts import CUTS
from tasks.numberwork.pictures.ink import BOLD, MARGIN, Point, letters, mark, moved, trail
from tasks.numberwork.pictures.outlines import OUTLINES
from tasks.numberwork.pictures.picture import Drawing, Picture
from tasks.numberwork.pictures.splitting import area, split

SIDE = 100.0
ALONE = 1.5  # how much larger a shape is drawn that stands alone
LABEL = 24.0
GAP = 14.0
PER_ROW = 2
EQUAL = 1e-9
LABELS = "ABCDEF"
Piece = tuple[Point, ...]


@cache
def _cut(shape: str, cut: str) -> tuple[Piece, Piece, Piece]:
    """Return the two pieces and the line of the cut; kept, since the names are few."""
    return split(OUTLINES[shape], CUTS[cut].path)


@dataclass(frozen=True, slots=True)
class ShapeCut(Picture):
    """A shape (a name in OUTLINES) with one cut (a name in CUTS) through it.

    Raises ValueError for an unknown name, and for a cut that does not go through this shape once.
    """

    shape: str
    cut: str

    def __post_init__(self) -> None:
        if self.shape not in OUTLINES:
            raise ValueError(f"shape must be one of {sorted(OUTLINES)}, not {self.shape!r}")
        if self.cut not in CUTS:
            raise ValueError(f"cut must be one of {sorted(CUTS)}, not {self.cut!r}")
        _cut(self.shape, self.cut)

    @property
    def pieces(self) -> tuple[Piece, Piece]:
        """Return the corners of the two pieces, in units of the shape's field of 100 by 100."""
        first, second, _ = _cut(self.shape, self.cut)
        return first, second

    @property
    def areas(self) -> tuple[float, float]:
        """Return the areas of the two pieces, in square units."""
        first, second = self.pieces
        return area(first), area(second)

    @property
    def is_half(self) -> bool:
        """Tell whether the pieces are equal in area, to a billionth of the whole."""
        first, second = self.areas
        return abs(first - second) <= EQUAL * (first + second)

    @property
    def alt(self) -> str:
        """Say the shape and how it is cut, but not whether the pieces are equal."""
        return f"{shape_named(self.shape)} cut in two {CUTS[self.cut].words}."

    def draw(self) -> Drawing:
        """Lay out the shape with one piece hatched."""
        side = ALONE * SIDE + 2 * MARGIN
        return Drawing(side, side, tuple(self.marks_at(MARGIN, MARGIN, ALONE)))

    def marks_at(self, left: float, top: float, scale: float = 1.0) -> list[str]:
        """Draw outline, hatching and cut, *scale* times as large, with the corner at left, top."""
        outline = OUTLINES[self.shape]
        first, _, cut = _cut(self.shape, self.cut)
        hatching = "".join(trail(stroke) for stroke in hatch(first))
        return [
            mark("path", d=moved(hatching, left, top, scale), stroke_width=1, stroke_opacity=0.6),
            mark("path", d=moved(trail(outline, closed=True), left, top, scale), stroke_width=BOLD),
            mark("path", d=moved(trail(cut), left, top, scale), stroke_width=BOLD),
        ]


@dataclass(frozen=True, slots=True)
class ShapeCutChoice(Picture):
    """Two to six cut shapes labelled A, B, C …, to choose from."""

    cuts: tuple[ShapeCut, ...]

    def __post_init__(self) -> None:
        if not isinstance(self.cuts, tuple) or not 2 <= len(self.cuts) <= len(LABELS):
            raise ValueError(f"cuts must be a tuple of two to six, not {self.cuts!r}")
        for cut in self.cuts:
            if not isinstance(cut, ShapeCut):
                raise ValueError(f"each of cuts must be a ShapeCut, not {cut!r}")

    @property
    def labels(self) -> tuple[str, ...]:
        """Return the letters in the order of the shapes."""
        return tuple(LABELS[: len(self.cuts)])

    @property
    def halves(self) -> tuple[str, ...]:
        """Return the letters of the shapes that are cut in half."""
        pairs = zip(self.labels, self.cuts, strict=True)
        return tuple(letter for letter, cut in pairs if cut.is_half)

    @property
    def alt(self) -> str:
        """Say each shape and its cut by its letter."""
        shown = [
            f"{letter}, {cut.alt[0].lower()}{cut.alt[1:-1]}"
            for letter, cut in zip(self.labels, self.cuts, strict=True)
        ]
        return f"{'; '.join(shown)}."

    def draw(self) -> Drawing:
        """Lay out the shapes two to a row, each over its letter."""
        pitch_x, pitch_y = SIDE + GAP, SIDE + LABEL + GAP
        marks: list[str] = []
        for place, (letter, cut) in enumerate(zip(self.labels, self.cuts, strict=True)):
            x, y = MARGIN + place % PER_ROW * pitch_x, MARGIN + place // PER_ROW * pitch_y
            marks += cut.marks_at(x, y)
            marks.append(letters(letter, x + SIDE / 2, y + SIDE + LABEL, LABEL))
        width = PER_ROW * pitch_x - GAP + 2 * MARGIN
        rows = -(-len(self.cuts) // PER_ROW)
        return Drawing(width, rows * pitch_y - GAP + 2 * MARGIN, tuple(marks))


def hatch(outline: tuple[Point, ...], spacing: float = 7.0) -> list[list[Point]]:
    """List slanted strokes *spacing* apart that fill *outline*; their ends lie on it."""
    sums = [x + y for x, y in outline]
    strokes: list[list[Point]] = []
    level = min(sums) + spacing / 2
    while level < max(sums):
        ends: list[Point] = []
        for (x1, y1), (x2, y2) in zip(outline, [*outline[1:], outline[0]], strict=True):
            low, high = x1 + y1, x2 + y2
            if (low < level) != (high < level):
                share = (level - low) / (high - low)
                ends.append((x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
        ends.sort()
        strokes += [ends[n : n + 2] for n in range(0, len(ends) - 1, 2)]
        level += spacing
    return strokes


def shape_named(shape: str) -> str:
    """Name one shape, at the beginning of a sentence."""
    return f"An {shape}" if shape[0] in "aeioL" else f"A {shape}"

"""One prompt in a frame: its picture or room to work, its sentence, how it is said, its choices."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from tasks.cards.languages import quoted_here
from tasks.numberwork.pictures import Picture
from tasks.printing.layout.pages import Pages, tall
from tasks.printing.layout.pictures import draw, least_width, scale_in, size_of
from tasks.printing.layout.sentences import Laid, lay, write
from tasks.printing.layout.strokes import PAD, SQUARE, frame, squared
from tasks.printing.values import Line

GUTTER = 4.0  # between two cells
MOST_HIGH = 31.0  # of a picture
ROWS_TO_WORK = 3  # of squared paper
SAID = 11.0  # points
CHOICE = 15.0
CHOICE_TALL = 10.0


@dataclass(frozen=True, slots=True)
class Cell:
    """A prompt laid out for a width; every part with its height, and the room between, in mm."""

    line: Line
    place: int
    width: float
    is_wide: bool
    picture: tuple[float, float] | None
    squares: int
    laid: Laid
    said: tuple[str, ...]
    pad: float = PAD

    @property
    def height(self) -> float:
        """Return the height of the cell with its frame."""
        pad = self.pad
        picture = self.picture[1] + pad if self.picture else self.squares * SQUARE + pad
        choices = CHOICE_TALL + pad if self.line.choices else 0
        return pad + picture + self.laid.height + len(self.said) * tall(SAID) + choices + 1.5 * pad


def is_wide(pages: Pages, picture: Picture | None) -> bool:
    """Tell whether *picture* needs the full width of the page to be read."""
    return picture is not None and least_width(picture) > half(pages) - 2 * PAD


def half(pages: Pages) -> float:
    """Return the width of one of two cells side by side."""
    return (pages.width - GUTTER) / 2


def cells(pages: Pages, lines: Sequence[Line], room: bool) -> list[Cell]:
    """Lay out the prompts of a part; *room* asks for squared paper where there is no picture.

    Pictures of one sort are drawn at one scale, so that the larger amount looks larger.
    """
    return [_cell(pages, line, place, room, lines) for place, line in enumerate(lines, 1)]


def _cell(pages: Pages, line: Line, place: int, room: bool, beside: Sequence[Line]) -> Cell:
    """Lay out *line*, the prompt number *place* among those *beside* it."""
    wide = is_wide(pages, line.picture)
    width = pages.width if wide else half(pages)
    inner = width - 2 * PAD
    alike = [
        scale_in(each.picture, inner, MOST_HIGH)
        for each in beside
        if type(each.picture) is type(line.picture)
        and each.picture
        and is_wide(pages, each.picture) == wide
    ]
    return Cell(
        line=line,
        place=place,
        width=width,
        is_wide=wide,
        picture=size_of(line.picture, min(alike)) if line.picture else None,
        squares=ROWS_TO_WORK if room and not line.picture else 0,
        laid=lay(pages, to_write(line), line.boxes, inner),
        said=tuple(pages.wrap(quoted_here(line.spoken), inner, SAID)) if line.spoken else (),
    )


def to_write(line: Line) -> str:
    """Return the sentence; without its last box where a choice is ringed instead."""
    return line.sentence.removesuffix(" □") if line.choices else line.sentence


def draw_cell(pages: Pages, cell: Cell, x: float, y: float, height: float) -> None:
    """Draw *cell* with its corner at x, y, its frame *height* high."""
    frame(pages, x, y, cell.width, height)
    pages.text(x + 2, y + 1.5, str(cell.place), SAID, bold=True)
    top, inner = y + cell.pad, cell.width - 2 * PAD
    if cell.picture and cell.line.picture:
        wide, high = cell.picture
        draw(pages, cell.line.picture, x + (cell.width - wide) / 2, top, wide, high)
        top += high
    elif cell.squares:
        columns = int((inner - 6) / SQUARE)
        squared(pages, x + (cell.width - columns * SQUARE) / 2, top, columns, cell.squares)
        top += cell.squares * SQUARE
    write(pages, cell.laid, x + PAD, top + cell.pad, inner)
    top += 1.3 * cell.pad + cell.laid.height
    for said in cell.said:
        pages.text(x + (cell.width - pages.measure(said, SAID)) / 2, top, said, SAID)
        top += tall(SAID)
    _choices(pages, cell, x, top + cell.pad / 2)


def _choices(pages: Pages, cell: Cell, x: float, y: float) -> None:
    """Draw the choices side by side, room around each for a ring."""
    if not cell.line.choices:
        return
    first = _("Write one:") if "□" in to_write(cell.line) else _("Ring one:")
    widths = [pages.measure(choice, CHOICE) + 8 for choice in cell.line.choices]
    lead = pages.measure(first, SAID) + 3
    at = x + (cell.width - sum(widths) - lead) / 2
    pages.text(at, y + 3, first, SAID)
    at += lead
    for choice, width in zip(cell.line.choices, widths, strict=True):
        pages.text(at + 4, y + 1.5, choice, CHOICE)
        at += width

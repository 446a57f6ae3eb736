"""One prompt in a frame: its picture or room to work, its sentence, how it is said, its choices."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from tasks.cards.languages import quoted_here
from tasks.numberwork.pictures import Picture
from tasks.printing.layout.pages import POINT, Pages, tall
from tasks.printing.layout.pictures import draw, least_width, scale_in, size_of
from tasks.printing.layout.sentences import Laid, lay, write
from tasks.printing.layout.strokes import PAD, SQUARE, frame, squared
from tasks.printing.values import Line

GUTTER = 4.0  # between two cells
MOST_HIGH = 31.0  # of a picture
ROWS_TO_WORK = 3  # of squared paper
SAID = 11.0  # points
CHOICE = 15.0
RING = 8 / 15  # millimetres beside a choice, for each point of its letters
NUMBER_WIDE, NUMBER_TALL = 8.0, 5.5  # of the corner that has the number of the prompt
BESIDE = 3.0  # between a picture and the words beside it

Choices = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A prompt laid out for a width; every part with its height, and the room between, in mm.

    choices: in rows, what to do with them before the first, in letters of *choice* points.
    beside: the words stand beside the picture. head: the room that the number takes above all.
    """

    line: Line
    place: int
    width: float
    is_wide: bool
    picture: tuple[float, float] | None
    squares: int
    laid: Laid
    said: tuple[str, ...]
    choices: Choices = ()
    pad: float = PAD
    choice: float = CHOICE
    beside: bool = False
    head: float = 0.0

    @property
    def height(self) -> float:
        """Return the height of the cell with its frame."""
        top = max(self.pad, self.head)
        if self.beside and self.picture:
            return max(top + self.picture[1] + self.pad, self.pad + self._words_tall)
        picture = self.picture[1] if self.picture else self.squares * SQUARE
        return top + picture + self.pad + self._words_tall

    @property
    def _words_tall(self) -> float:
        """Return the height of all but the picture, with the room below it."""
        choices = len(self.choices) * choice_tall(self.choice) + self.pad if self.choices else 0
        return self.laid.height + len(self.said) * tall(SAID) + choices + 1.5 * self.pad


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
        choices=choice_rows(pages, line, inner),
    )


def to_write(line: Line) -> str:
    """Return the sentence; without its last box where a choice is ringed instead."""
    return line.sentence.removesuffix(" □") if line.choices else line.sentence


def choice_tall(size: float) -> float:
    """Return the height of a row of choices in letters of *size* points, room around for a ring."""
    return tall(size) + 3


def choice_rows(pages: Pages, line: Line, width: float, size: float = CHOICE) -> Choices:
    """Break what to do and the choices of *line* into rows no wider than *width*."""
    if not line.choices:
        return ()
    rows = [[_("Write one:") if "□" in to_write(line) else _("Ring one:")]]
    for choice in line.choices:
        if choices_width(pages, (*rows[-1], choice), len(rows) == 1, size) > width:
            rows.append([])
        rows[-1].append(choice)
    return tuple(map(tuple, rows))


def choices_width(pages: Pages, row: Sequence[str], is_first: bool, size: float) -> float:
    """Return the width of a row of choices; the first row begins with what to do."""
    lead = pages.measure(row[0], SAID) + 3 if is_first else 0
    return lead + sum(pages.measure(each, size) + RING * size for each in row[is_first:])


def draw_cell(pages: Pages, cell: Cell, x: float, y: float, height: float) -> None:
    """Draw *cell* with its corner at x, y, its frame *height* high."""
    frame(pages, x, y, cell.width, height)
    pages.text(x + 2, y + 1.5, str(cell.place), SAID, bold=True)
    top, left, inner = y + max(cell.pad, cell.head), x + PAD, cell.width - 2 * PAD
    if cell.picture and cell.line.picture:
        wide, high = cell.picture
        at = x + NUMBER_WIDE if cell.beside else x + (cell.width - wide) / 2
        draw(pages, cell.line.picture, at, top, wide, high)
        if cell.beside:
            left = at + wide + BESIDE
            inner, top = x + cell.width - PAD - left, y
        else:
            top += high
    elif cell.squares:
        columns = int((inner - 6) / SQUARE)
        squared(pages, x + (cell.width - columns * SQUARE) / 2, top, columns, cell.squares)
        top += cell.squares * SQUARE
    write(pages, cell.laid, left, top + cell.pad, inner)
    top += 1.3 * cell.pad + cell.laid.height
    for said in cell.said:
        pages.text(left + (inner - pages.measure(said, SAID)) / 2, top, said, SAID)
        top += tall(SAID)
    _choices(pages, cell, left, top + cell.pad / 2, inner)


def _choices(pages: Pages, cell: Cell, x: float, y: float, width: float) -> None:
    """Draw the choices side by side, room around each for a ring."""
    lower = 1.5 + (cell.choice - SAID) * POINT * 0.95
    for place, row in enumerate(cell.choices):
        is_first = place == 0
        at = x + (width - choices_width(pages, row, is_first, cell.choice)) / 2
        if is_first:
            pages.text(at, y + lower, row[0], SAID)
            at += pages.measure(row[0], SAID) + 3
        for choice in row[is_first:]:
            pages.text(at + RING * cell.choice / 2, y + 1.5, choice, cell.choice)
            at += pages.measure(choice, cell.choice) + RING * cell.choice
        y += choice_tall(cell.choice)

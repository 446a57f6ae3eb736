"""A child's day on one side: every prompt with its picture and one place to write."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from django.utils.translation import gettext as _

from tasks.numberwork import pictures as drawn
from tasks.numberwork.pictures import Picture
from tasks.printing.layout.cells import CHOICE, SAID, Cell, draw_cell, to_write
from tasks.printing.layout.headings import name_line, run_head
from tasks.printing.layout.pages import BODY, Pages
from tasks.printing.layout.pictures import drawing_of, least_width, scale_in, size_of
from tasks.printing.layout.sentences import lay, widest
from tasks.printing.layout.strokes import PAD, code_side, frame, square_code
from tasks.printing.values import Day, Line, Pack

SHARES = (1 / 4, 1 / 3, 1 / 2, 2 / 3, 1.0)  # of the width of the page, that a prompt may take
GUTTER = 2.5  # millimetres between two prompts
TITLE = 15.0  # points
SIDE = 20.0  # millimetres: the least of the longer side of a picture without counters
CODE = 20.0  # millimetres, and more for a long address
FOOT = 7.0
TICK = 5.0
MOST_EXTRA = 18.0  # millimetres that a row may gain where a side has room left


class Size(NamedTuple):
    """How large all is on a side, in millimetres, and the letters of its sentences in points."""

    counter: float  # across
    high: float  # any other picture
    letters: float
    pad: float  # between picture, sentence and frame


SIZES = (
    *(Size(6.0, 24.0, 18.0, 3.0), Size(5.5, 20.0, 18.0, 3.0), Size(5.0, 16.0, 18.0, 3.0)),
    *(Size(4.5, 13.0, 17.0, 3.0), Size(4.5, 12.0, 16.0, 2.0), Size(4.0, 11.0, 15.0, 1.5)),
    *(Size(3.5, 10.0, 15.0, 1.5), Size(3.0, 9.0, 14.0, 1.5)),
)
WITH_COUNTERS = (
    *(drawn.Array, drawn.CompareSets, drawn.Counters, drawn.DiceDots, drawn.FiveAndDots),
    *(
        drawn.FiveFrame,
        drawn.MovedRow,
        drawn.Plates,
        drawn.ScatteredDots,
        drawn.TenFrame,
        drawn.TwoLots,
    ),
    drawn.TwoRows,
)
_RADIUS = re.compile(r'<circle[^>]* r="([\d.]+)"')

Row = list[Cell]


class Numbered(NamedTuple):
    """A prompt with its number on the side."""

    place: int
    line: Line


def prompts_of(day: Day) -> list[Numbered]:
    """Number all prompts of *day* from 1, through its parts."""
    lines = (line for part in day.parts for line in part.lines)
    return [Numbered(place, line) for place, line in enumerate(lines, 1)]


def child_side(pages: Pages, pack: Pack, day: Day) -> None:
    """Print the prompts of *day* on one side, or on as few as they need."""
    run_head(pages, pack, day.title)
    pages.add()
    _heading(pages, pack, day)
    prompts = prompts_of(day)
    first, more = pages.room - FOOT, pages.bottom - pages.top - FOOT
    tried = [
        list(_sides(_rows(lay_out(pages, prompts, size), pages.width), first, more))
        for size in SIZES
    ]
    for at, side in enumerate(min(tried, key=len)):  # of as few sides, the largest pictures
        if at:
            pages.add()
        _print(pages, side)
    _help(pages)


def _heading(pages: Pages, pack: Pack, day: Day) -> None:
    """Write day and focus beside the code, and leave a line for the name."""
    top, side = pages.y, code_side(day.address, CODE)
    room = pages.width - side - 5
    y = pages.lines(
        pages.left, top, pages.wrap(day.title, room, TITLE, bold=True), TITLE, bold=True
    )
    pages.y = pages.lines(pages.left, y, pages.wrap(day.focus, room, BODY), BODY) + 1
    name_line(pages, pack)
    square_code(pages, day.address, pages.right - side + 3, top - 3, side)
    pages.y = max(pages.y, top + side - 4)


def lay_out(pages: Pages, prompts: Sequence[Numbered], size: Size) -> list[Cell]:
    """Lay every prompt out, all counters at one size: that of *size* or what the widest allows."""
    counter, inner = size.counter, pages.width - 2 * PAD
    for each in prompts:
        if radius := counter_radius(each.line.picture):
            drawing = drawing_of(each.line.picture)
            counter = min(counter, 2 * radius * inner / drawing.width)
    return [_cell(pages, each, size._replace(counter=counter)) for each in prompts]


def counter_radius(picture: Picture | None) -> float | None:
    """Return the radius of the counters in *picture*, in its units; None where it has none."""
    if not isinstance(picture, WITH_COUNTERS):
        return None
    radii = Counter(_RADIUS.findall("".join(drawing_of(picture).marks)))
    return float(radii.most_common(1)[0][0]) if radii else None


def _cell(pages: Pages, prompt: Numbered, size: Size) -> Cell:
    """Lay *prompt* out in the smallest share of the width that it goes into."""
    line = replace(prompt.line, spoken="")
    for share in SHARES:
        inner = _width(pages, share) - 2 * PAD
        picture = _picture(line.picture, inner, size)
        laid = lay(pages, to_write(line), line.boxes, inner, size.letters)
        fits = widest(pages, laid) <= inner and _choices_width(pages, line) <= inner
        fits = fits and (len(laid.rows) == 1 or (share > 1 / 3 and len(laid.rows) == 2))
        if fits and (not picture or picture[0] <= inner):
            break
    return Cell(
        line=line,
        place=prompt.place,
        width=_width(pages, share),
        is_wide=share == 1,
        picture=picture,
        squares=0,
        laid=laid,
        said=(),
        pad=size.pad,
    )


def _width(pages: Pages, share: float) -> float:
    return (pages.width + GUTTER) * share - GUTTER


def _picture(picture: Picture | None, inner: float, size: Size) -> tuple[float, float] | None:
    """Return the size of *picture*; wider than *inner* where it needs more room."""
    if picture is None:
        return None
    if radius := counter_radius(picture):
        return size_of(picture, size.counter / (2 * radius))
    return size_of(
        picture, scale_in(picture, max(inner, least_width(picture, SIDE)), size.high, SIDE)
    )


def _choices_width(pages: Pages, line: Line) -> float:
    if not line.choices:
        return 0.0
    first = max(pages.measure(words, SAID) for words in (_("Write one:"), _("Ring one:")))
    return first + 3 + sum(pages.measure(each, CHOICE) + 8 for each in line.choices)


def _rows(cells: Sequence[Cell], width: float) -> list[Row]:
    """Put cells into rows no wider than *width*, in order."""
    rows: list[Row] = [[]]
    for each in cells:
        wide = sum(cell.width + GUTTER for cell in (*rows[-1], each)) - GUTTER
        if rows[-1] and wide > width + 0.01:
            rows.append([])
        rows[-1].append(each)
    return rows


def _height(rows: Sequence[Row]) -> float:
    return sum(max(each.height for each in row) + GUTTER for row in rows if row)


def _sides(rows: Sequence[Row], first: float, more: float) -> Iterator[list[Row]]:
    """Share *rows* out over as few sides as they need, never one row alone on the last."""
    sides: list[list[Row]] = [[]]
    for row in rows:
        room = first if len(sides) == 1 else more
        if sides[-1] and _height([*sides[-1], row]) > room:
            sides.append([])
        sides[-1].append(row)
    if len(sides) > 1 and len(sides[-1]) == 1 and len(sides[-2]) > 2:
        sides[-1].insert(0, sides[-2].pop())
    yield from sides


def _print(pages: Pages, rows: Sequence[Row]) -> None:
    """Print one side; the room that is left goes to its rows, to draw and work in."""
    left = pages.room - FOOT - _height(rows)
    extra = min(MOST_EXTRA, max(0.0, left / len(rows)))
    for row in rows:
        height = max(each.height for each in row) + extra
        wide = sum(each.width for each in row)
        stretch = (pages.width - GUTTER * (len(row) - 1)) / wide
        x = pages.left
        for each in row:
            cell = replace(each, width=each.width * stretch)
            draw_cell(pages, cell, x, pages.y, height)
            x += cell.width + GUTTER
        pages.y += height + GUTTER


def _help(pages: Pages) -> None:
    """Print what may be ticked for how much help was given."""
    question = _("How much help?")
    pages.text(pages.left, pages.y, question, BODY, bold=True)
    x = pages.left + pages.measure(question, BODY, bold=True) + 6
    for words in (_("all alone"), _("with a little help"), _("we did it together")):
        frame(pages, x, pages.y, TICK, TICK)
        pages.text(x + TICK + 1.5, pages.y + 0.5, words, SAID)
        x += TICK + 1.5 + pages.measure(words, SAID) + 6
    pages.y += FOOT

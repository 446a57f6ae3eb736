"""A child's day on one side: every prompt with its picture and one place to write."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from django.utils.translation import gettext as _

from tasks.numberwork import pictures as drawn
from tasks.numberwork.pictures import Picture
from tasks.printing.layout.cells import (
    BESIDE,
    NUMBER_TALL,
    NUMBER_WIDE,
    SAID,
    Cell,
    choice_rows,
    choices_width,
    draw_cell,
    to_write,
)
from tasks.printing.layout.headings import name_line, run_head
from tasks.printing.layout.pages import BODY, Pages
from tasks.printing.layout.pictures import drawing_of, least_width, scale_in, size_of
from tasks.printing.layout.sentences import lay, longest, widest
from tasks.printing.layout.strokes import PAD, code_side, frame, square_code
from tasks.printing.values import Day, Line, Pack

# Of the width of the page, what the prompts of a row take: as many in a row as there are shares.
ALONE = ((1.0,),)
TWO = ((1 / 2, 1 / 2), (1 / 3, 2 / 3), (2 / 3, 1 / 3), (2 / 5, 3 / 5), (3 / 5, 2 / 5))
THREE = ((1 / 3, 1 / 3, 1 / 3), (1 / 2, 1 / 4, 1 / 4), (1 / 4, 1 / 2, 1 / 4), (1 / 4, 1 / 4, 1 / 2))
FOUR = ((1 / 4, 1 / 4, 1 / 4, 1 / 4),)
SHARES = tuple({share for row in (*ALONE, *TWO, *THREE, *FOUR) for share in row})
# The fewest in a row that fit: a page is easier to read, and has more room, with few.
WAYS = ((*ALONE, *TWO), (*ALONE, *TWO, *THREE), (*ALONE, *TWO, *THREE, *FOUR))
GUTTER = 2.5  # millimetres between two prompts
TITLE = 15.0  # points
SIDE = 20.0  # millimetres: the least of the longer side of a picture without counters
CODE = 20.0  # millimetres, and more for a long address
FOOT = 7.0
TICK = 5.0
MOST_ROWS = 4  # of a sentence, and fewer where they would be short
LEAST_WORDS = 28.0  # millimetres across, beside a picture
MOST_LEFT_OUT = 3  # prompts of a day, the adult's side asks them too
REST = 6.0  # millimetres, of the line that says so
MOST_EXTRA = 18.0  # millimetres that a row may gain where a side has room left


class Size(NamedTuple):
    """How large all is on a side, in millimetres, and the letters in points."""

    counter: float  # across
    high: float  # any other picture
    letters: float  # of a sentence
    choice: float
    pad: float  # between picture, sentence and frame


SIZES = (
    *(Size(6.0, 24.0, 18.0, 15.0, 3.0), Size(5.5, 20.0, 18.0, 15.0, 3.0)),
    *(Size(5.0, 16.0, 18.0, 15.0, 3.0), Size(4.5, 13.0, 17.0, 15.0, 3.0)),
    *(Size(4.5, 12.0, 16.0, 15.0, 2.0), Size(4.0, 11.0, 15.0, 14.0, 1.5)),
    *(Size(3.5, 10.0, 15.0, 13.0, 1.5), Size(3.0, 9.0, 14.0, 13.0, 1.5)),
    *(Size(3.0, 9.0, 13.0, 12.0, 1.2), Size(3.0, 9.0, 12.0, 11.5, 1.0)),
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
Tried = dict[float, Cell]  # of one prompt, by the share of the width


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
    first, more = pages.room - FOOT, pages.bottom - pages.top - FOOT
    rows = _largest(pages, prompts_of(day), first)
    fewer = [] if _height(rows) <= first else _fewer(pages, day, first - REST)
    for at, side in enumerate([fewer] if fewer else _sides(rows, first, more)):
        if at:
            pages.add()
        _print(pages, side, REST if fewer else 0)
    if fewer:
        pages.text(pages.left, pages.y, _("The rest is on the screen."), BODY)
        pages.y += REST
    _help(pages)


def _fewer(pages: Pages, day: Day, room: float) -> list[Row]:
    """Return the rows of all but the last prompts of the longest part, few enough for *room*.

    There are none where too many would have to be left out: then there are more sides.
    """
    prompts, sizes = prompts_of(day), [len(part.lines) for part in day.parts]
    longest = sizes.index(max(sizes))
    end = sum(sizes[: longest + 1])
    for count in range(1, min(MOST_LEFT_OUT, sizes[longest] - 1) + 1):
        rows = _largest(pages, [*prompts[: end - count], *prompts[end:]], room)
        if _height(rows) <= room:
            return rows
    return []


def _largest(pages: Pages, prompts: Sequence[Numbered], room: float) -> list[Row]:
    """Return the rows of *prompts* with the largest pictures, and then the fewest in a row."""
    for size in SIZES:
        tried = lay_out(pages, prompts, size)
        for ways in WAYS:
            rows = pack(tried, ways)
            if _height(rows) <= room:
                return rows
    return rows


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


def lay_out(pages: Pages, prompts: Sequence[Numbered], size: Size) -> list[Tried]:
    """Lay every prompt out in each share of the width that it goes into.

    All counters have one size: that of *size* or what the widest allows.
    """
    counter, inner = size.counter, pages.width - 2 * PAD
    for each in prompts:
        if radius := counter_radius(each.line.picture):
            drawing = drawing_of(each.line.picture)
            counter = min(counter, 2 * radius * inner / drawing.width)
    size = size._replace(counter=counter)
    return [
        {share: cell for share in SHARES if (cell := _cell(pages, each, size, share))}
        for each in prompts
    ]


def counter_radius(picture: Picture | None) -> float | None:
    """Return the radius of the counters in *picture*, in its units; None where it has none."""
    if not isinstance(picture, WITH_COUNTERS):
        return None
    radii = Counter(_RADIUS.findall("".join(drawing_of(picture).marks)))
    return float(radii.most_common(1)[0][0]) if radii else None


def _cell(pages: Pages, prompt: Numbered, size: Size, share: float) -> Cell | None:
    """Lay *prompt* out in *share* of the width, as low as it goes; None where it goes in badly."""
    cells = (_try(pages, prompt, size, share, beside) for beside in (False, True))
    return min((cell for cell in cells if cell), key=lambda cell: cell.height, default=None)


def _try(pages: Pages, prompt: Numbered, size: Size, share: float, beside: bool) -> Cell | None:
    """Lay *prompt* out with its words below its picture, or *beside* it."""
    line, width = replace(prompt.line, spoken=""), _width(pages, share)
    inner = width - 2 * PAD
    picture = _picture(line.picture, inner, size)
    if beside and not picture:
        return None
    room = width - NUMBER_WIDE - picture[0] - BESIDE - PAD if beside and picture else inner
    if room < LEAST_WORDS:
        return None
    laid = lay(pages, to_write(line), line.boxes, room, size.letters)
    choices = choice_rows(pages, line, room, size.choice)
    fits = not picture or picture[0] <= inner
    fits = fits and widest(pages, laid) <= room
    fits = fits and len(laid.rows) <= (MOST_ROWS if share >= 1 / 3 else 2)
    fits = fits and all(
        choices_width(pages, row, not at, size.choice) <= room for at, row in enumerate(choices)
    )
    if not fits and (share < 1 or beside):
        return None
    first = picture[0] if picture else longest(pages, laid)
    is_under = not beside and first > width - 2 * NUMBER_WIDE
    return Cell(
        line=line,
        place=prompt.place,
        width=width,
        is_wide=share == 1,
        picture=picture,
        squares=0,
        laid=laid,
        said=(),
        choices=choices,
        pad=size.pad,
        choice=size.choice,
        beside=beside,
        head=NUMBER_TALL if is_under else 0.0,
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


def pack(tried: Sequence[Tried], ways: Sequence[tuple[float, ...]]) -> list[Row]:
    """Put prompts into rows, in order, each row shared in one of *ways*, as low as they go."""
    lowest: list[tuple[float, list[Row]]] = [(0.0, [])]
    for end in range(1, len(tried) + 1):
        found = []
        for way in ways:
            start = end - len(way)
            row = [each.get(share) for each, share in zip(tried[start:end], way, strict=False)]
            cells = [cell for cell in row if cell]
            if start >= 0 and len(cells) == len(way):
                height, rows = lowest[start]
                found.append((height + _height([cells]), [*rows, cells]))
        lowest.append(min(found, key=lambda each: each[0]))
    return lowest[-1][1]


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


def _print(pages: Pages, rows: Sequence[Row], below: float) -> None:
    """Print one side; the room that is left goes to its rows, to draw and work in.

    below: millimetres to leave for a line under the rows.
    """
    left = pages.room - FOOT - below - _height(rows)
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

"""Task cards: what to do, fetch and say, the caution, and every prompt with its picture."""

from collections.abc import Iterator, Sequence

from django.utils.translation import gettext as _

from tasks.cards.languages import quoted_here
from tasks.cards.safety import ALWAYS
from tasks.printing.layout.cells import GUTTER, Cell, cells, draw_cell
from tasks.printing.layout.headings import day_heading, run_head
from tasks.printing.layout.letters import loses_letters
from tasks.printing.layout.pages import BODY, Pages, tall
from tasks.printing.layout.strokes import PAD, caution, caution_height, frame
from tasks.printing.values import Day, Pack, Part

TITLE = 17.0  # points
LABEL = 10.0
BETWEEN = 8.0  # millimetres between two parts


def task_cards(pages: Pages, pack: Pack, day: Day) -> None:
    """Print the cards of *day*, its parts one after the other."""
    run_head(pages, pack, day.title)
    pages.add()
    day_heading(pages, day.title, day.focus, day.address, _("Send the work: scan this"))
    if any(map(loses_letters, _words(day))):
        text = _("Some words are in letters that cannot be printed here. The screen has them.")
        pages.say(text, BODY, bold=True)
    if day.note:
        _note(pages, day.note)
    first_more = next((part for part in day.parts[1:] if part.more), None)
    for part in day.parts:
        if part is first_more:
            pages.need(2 * tall(BODY))
            pages.say(_("That is enough for today."), BODY, bold=True)
        _part(pages, part)
    pages.need(2 * tall(BODY))
    pages.say(str(ALWAYS), LABEL)


def _words(day: Day) -> Iterator[str]:
    """Return all that a teacher may have written for *day*."""
    yield from (day.focus, day.note)
    for part in day.parts:
        yield from (part.words, part.fetch, part.say, *part.cautions)


def _note(pages: Pages, note: str) -> None:
    """Print the teacher's word to families in a frame, or without one if it is long."""
    lines = pages.wrap(note, pages.width - 2 * PAD, BODY)
    height = (len(lines) + 1) * tall(BODY) + 2 * PAD
    if height > pages.room / 2:
        pages.say(_("From your teacher"), BODY, bold=True, gap=0)
        pages.say(note, gap=BETWEEN)
        return
    frame(pages, pages.left, pages.y, pages.width, height)
    x, y = pages.left + PAD, pages.y + PAD
    pages.text(x, y, _("From your teacher"), BODY, bold=True)
    pages.lines(x, y + tall(BODY), lines, BODY)
    pages.y += height + BETWEEN


def _part(pages: Pages, part: Part) -> None:
    """Print one part; its head stays with its first row of prompts."""
    rows = list(_rows(cells(pages, part.lines, part.room)))
    first = max(each.height for each in rows[0]) if rows else 0
    pages.need(_head_height(pages, part) + first)
    _head(pages, part)
    for row in rows:
        height = max(each.height for each in row)
        pages.need(height)
        x = pages.left
        for each in row:
            draw_cell(pages, each, x, pages.y, height)
            x += each.width + GUTTER
        pages.y += height + GUTTER
    pages.y += BETWEEN - GUTTER


def _rows(cells: Sequence[Cell]) -> Iterator[list[Cell]]:
    """Put cells into rows, in order: two narrow ones side by side, a wide one alone."""
    waiting: list[Cell] = []
    for each in cells:
        if waiting and (each.is_wide or len(waiting) == 2):
            yield waiting
            waiting = []
        if each.is_wide:
            yield [each]
        else:
            waiting = [*waiting, each]
    if waiting:
        yield waiting


def _head_height(pages: Pages, part: Part) -> float:
    """Return the height of all that stands above the first prompt."""
    height = tall(TITLE) + 2 + len(pages.wrap(part.words, pages.width, BODY + 1)) * tall(BODY + 1)
    height += _columns_height(pages, part)
    if part.cautions:
        height += caution_height(pages, part.cautions, pages.width) + PAD
    return height + PAD


def _columns_height(pages: Pages, part: Part) -> float:
    """Return the height of what to fetch and what to say, side by side."""
    columns = [_column(pages, text) for _label, text in _adult(part)]
    return tall(LABEL) + max(map(len, columns)) * tall(BODY) + 2 if columns else 0


def _head(pages: Pages, part: Part) -> None:
    """Print title, what to do, what to fetch and say side by side, and the caution."""
    pages.text(pages.left, pages.y, part.title, TITLE, bold=True)
    pages.y += tall(TITLE) + 1
    pages.say(part.words, BODY + 1, gap=1)
    pages.need(_columns_height(pages, part))
    top = pages.y
    for place, (label, text) in enumerate(_adult(part)):
        x = pages.left + place * (pages.width + GUTTER) / 2
        pages.text(x, top, label, LABEL, bold=True)
        end = pages.lines(x, top + tall(LABEL), _column(pages, text), BODY)
        pages.y = max(pages.y, end + 2)
    if part.cautions:
        pages.need(caution_height(pages, part.cautions, pages.width))
        pages.y = PAD + caution(pages, part.cautions, pages.left, pages.y, pages.width)
    pages.y += PAD


def _adult(part: Part) -> list[tuple[str, str]]:
    """Return what there is to fetch and to say, under its label."""
    said = quoted_here(part.say) if part.say else ""
    pairs = [(_("From the kitchen"), part.fetch), (_("What to say"), said)]
    return [(label, text) for label, text in pairs if text]


def _column(pages: Pages, text: str) -> list[str]:
    return pages.wrap(text, (pages.width - GUTTER) / 2, BODY)

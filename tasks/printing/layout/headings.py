"""The tops of pages: whose they are, what day it is, and where a scanned code leads."""

from django.utils.translation import gettext as _

from tasks.printing.layout.letters import loses_letters, printable
from tasks.printing.layout.pages import Pages, tall
from tasks.printing.layout.strokes import square_code, write_line
from tasks.printing.values import Pack

TITLE = 22.0  # points
CODE = 32.0  # millimetres, its quiet zone included
SMALL = 8.5


def run_head(pages: Pages, pack: Pack, title: str) -> None:
    """Begin pages that repeat class and *title*, and the child's name where it was asked for."""
    pages.begin(f"{pack.who} · {title}" if pack.who else title, shown_name(pack))


def shown_name(pack: Pack) -> str:
    """Return the first name if it is asked for and can be printed whole."""
    return "" if loses_letters(pack.name) else printable(pack.name)


def day_heading(pages: Pages, title: str, under: str, address: str, why: str) -> None:
    """Write *title* large and *under* below it, beside a code that leads to *address*."""
    top, room = pages.y, pages.width - CODE - 5
    y = pages.lines(pages.left, top, pages.wrap(title, room, TITLE, bold=True), TITLE, bold=True)
    y = pages.lines(pages.left, y + 1, pages.wrap(under, room, 14), 14)
    y = pages.lines(pages.left, y + 2, pages.wrap(why, room, SMALL + 2), SMALL + 2)
    y = pages.lines(pages.left, y, pages.wrap(address, room, SMALL), SMALL)
    square_code(pages, address, pages.right - CODE + 3, top - 3, CODE)
    pages.y = max(y, top + CODE - 3) + 3


def name_line(pages: Pages, pack: Pack) -> None:
    """Leave a line for the first name, unless it is printed."""
    if shown_name(pack):
        return
    label = _("First name")
    pages.text(pages.left, pages.y, label, 11)
    start = pages.left + pages.measure(label, 11) + 3
    write_line(pages, start, pages.y + tall(11), 70)
    pages.y += tall(11) + 4

"""Sheets that are the same on any day: the hundred square and number lines."""

from django.utils.translation import gettext as _

from tasks.numberwork.pictures import HundredSquare, NumberLine
from tasks.numberwork.pictures.hundred_square import MARGIN as EDGE
from tasks.printing.layout.headings import run_head
from tasks.printing.layout.pages import BODY, Pages, tall
from tasks.printing.layout.pictures import draw, drawing_of
from tasks.printing.values import Order, Pack

TITLE = 20.0  # points
ON_PAPER = 12  # units: every number of a line to twenty goes below it, 7 mm high
LINES = (
    NumberLine(0, 10),
    NumberLine(0, 20, numeral=ON_PAPER),
    NumberLine(0, 10, hidden=(1, 2, 3, 4, 6, 7, 8, 9)),
    NumberLine(0, 20, hidden=(5, 6, 7, 8, 9, 15, 16, 17, 18, 19), numeral=ON_PAPER),
)


def hundred_square(pages: Pages, pack: Pack, order: Order) -> None:
    """Print the numbers 1 to 100 in rows of ten over the full width, and ways to use them."""
    _title(pages, pack, _("Hundred square"))
    picture = HundredSquare()
    drawing = drawing_of(picture)
    # The squares themselves go from margin to margin; the picture has an edge around them.
    scale = pages.width / (drawing.width - 2 * EDGE)
    edge, side = EDGE * scale, drawing.width * scale
    draw(pages, picture, pages.left - edge, pages.y - edge + 1, side, side)
    pages.y += pages.width + 5
    for way in (
        _("Say the numbers along a row. What stays the same in every row?"),
        _("Hide a number with a finger. Which one is it? How do you know?"),
        _("Point to one more, then to one less. Point to ten more: where is it?"),
    ):
        pages.say(way, BODY, gap=0.5)


def number_lines(pages: Pages, pack: Pack, order: Order) -> None:
    """Print number lines to 10 and to 20, and the same with boxes to fill."""
    _title(pages, pack, _("Number lines"))
    pages.say(_("Put a finger on a number and jump along. Draw the jumps above the line."), gap=4)
    share = pages.room / len(LINES)
    for line in LINES:
        drawing = drawing_of(line)
        scale = pages.width / drawing.width
        high = drawing.height * scale
        draw(pages, line, pages.left, pages.y + share - high - 4, pages.width, high)
        pages.y += share


def _title(pages: Pages, pack: Pack, title: str) -> None:
    """Begin a page with *title*."""
    run_head(pages, pack, title)
    pages.add()
    pages.text(pages.left, pages.y, title, TITLE, bold=True)
    pages.y += tall(TITLE) + 3

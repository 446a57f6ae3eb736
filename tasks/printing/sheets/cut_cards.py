"""Number cards and dot cards to cut out along dashed lines, with an adult."""

from collections.abc import Iterator

from django.utils.translation import gettext as _

from tasks.numberwork.pictures import FiveAndDots, Picture, TenFrame
from tasks.numberwork.pictures.ink import MARGIN
from tasks.printing.layout.headings import run_head
from tasks.printing.layout.pages import POINT, Pages, tall
from tasks.printing.layout.pictures import draw, drawing_of, size_of
from tasks.printing.layout.strokes import STRONG, caution, cut_line, scissors
from tasks.printing.values import Order, Pack

TITLE = 20.0  # points
NUMERAL = 92.0
COLUMNS, ROWS = 3, 4
SAFE = 6.0  # millimetres between a cut line and anything printed
BARE_EDGE = 17.0  # units without ink on either side of five-and-some dots
TURNED = (6, 9)  # look alike upside down, so a stroke under them shows which way is up


def number_cards(pages: Pages, pack: Pack, order: Order) -> None:
    """Print cards with the numerals from 0, then cards with as many dots."""
    run_head(pages, pack, _("Number and dot cards"))
    numbers = range(order.up_to + 1)
    for cards in _pagefuls(numbers):
        _sheet(pages, _("Number cards"))
        for place, number in enumerate(cards):
            _numeral(pages, number, *_middle(pages, place))
    for cards in _pagefuls(numbers):
        _sheet(pages, _("Dot cards"))
        for place, number in enumerate(cards):
            _dots(pages, number, *_middle(pages, place))


def _pagefuls(numbers: range) -> Iterator[range]:
    """Return the numbers page by page."""
    for start in range(0, len(numbers), COLUMNS * ROWS):
        yield numbers[start : start + COLUMNS * ROWS]


def _sheet(pages: Pages, title: str) -> None:
    """Begin a page with its title, the caution and the dashed lines; leave the cursor below."""
    pages.add()
    pages.text(pages.left, pages.y, title, TITLE, bold=True)
    scissors(pages, pages.right - 9, pages.y + 2)
    pages.y += tall(TITLE) + 1
    warnings = [_("Cut with an adult. Put the scissors away as soon as you are done.")]
    pages.y = caution(pages, warnings, pages.left, pages.y, pages.width) + 4
    wide, high = _card(pages)
    for column in range(COLUMNS + 1):
        x = pages.left + column * wide
        cut_line(pages, x, pages.y, x, pages.bottom)
    for row in range(ROWS + 1):
        y = pages.y + row * high
        cut_line(pages, pages.left, y, pages.right, y)


def _card(pages: Pages) -> tuple[float, float]:
    """Return width and height of a card."""
    return pages.width / COLUMNS, pages.room / ROWS


def _middle(pages: Pages, place: int) -> tuple[float, float]:
    """Return the middle of the card at *place*, counted along the rows from 0."""
    wide, high = _card(pages)
    return (
        pages.left + (place % COLUMNS + 0.5) * wide,
        pages.y + (place // COLUMNS + 0.5) * high,
    )


def _numeral(pages: Pages, number: int, x: float, y: float) -> None:
    """Write a numeral in the middle of a card, in the letters children read."""
    text, high = str(number), NUMERAL * POINT
    wide = pages.measure(text, NUMERAL)
    pages.text(x - wide / 2, y - high * 0.6, text, NUMERAL)
    if number in TURNED:
        pages.pdf.set_line_width(STRONG)
        pages.pdf.line(x - wide / 2, y + high * 0.48, x + wide / 2, y + high * 0.48)


def _dots(pages: Pages, number: int, x: float, y: float) -> None:
    """Draw as many dots as *number*: to ten as five and some more, else in frames of ten."""
    picture = dots_for(number)
    wide, high = size_of(picture, _scale(pages, picture))
    draw(pages, picture, x - wide / 2, y - high / 2, wide, high)


def dots_for(number: int) -> Picture:
    """Return the picture on the dot card of *number*, 0 to 20."""
    return FiveAndDots(number) if 1 <= number <= 10 else TenFrame(number)


def _scale(pages: Pages, picture: Picture) -> float:
    """Give the scale at which the widest picture of this sort keeps its ink off the cut lines."""
    widest = drawing_of(dots_for(10 if isinstance(picture, FiveAndDots) else 20)).width
    edge = BARE_EDGE if isinstance(picture, FiveAndDots) else MARGIN
    return (_card(pages)[0] - 2 * SAFE) / (widest - 2 * edge)

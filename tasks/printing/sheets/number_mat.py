"""The number-of-the-day mat: one number to trace, tally, draw, find and make."""

from collections.abc import Iterator

from django.utils.translation import gettext as _

from tasks.numberwork.pictures import (
    FiveAndDots,
    NumberLine,
    NumeralTrace,
    Picture,
    Tally,
    TenFrame,
)
from tasks.printing.layout.headings import name_line, run_head
from tasks.printing.layout.pages import Pages, tall
from tasks.printing.layout.pictures import draw, scale_in, size_of
from tasks.printing.layout.sentences import lay, write
from tasks.printing.layout.strokes import PAD, SQUARE, frame, squared
from tasks.printing.values import Day, Pack

TITLE = 22.0  # points
LABEL = 11.0
GAP = 4.0
SHARES = (0.3, 0.15, 0.19, 0.15, 0.21)  # of the page: trace, tally, dots, line, sentences


def number_mat(pages: Pages, pack: Pack, day: Day) -> None:
    """Print the mat for the number of *day*; nothing on a day without one."""
    if day.number is None:
        return
    run_head(pages, pack, day.title)
    pages.add()
    title = _("Number of the day: %(number)s") % {"number": day.number}
    pages.text(pages.left, pages.y, title, TITLE, bold=True)
    pages.y += tall(TITLE) + 2
    name_line(pages, pack)
    room = pages.room - GAP * (len(SHARES) - 1)
    trace, tally, dots, line, sums = (room * share for share in SHARES)
    _pair(pages, _("Trace it"), NumeralTrace(day.number), _("Write it"), trace)
    _pair(pages, _("Tally"), Tally(day.number), _("Your own tally"), tally)
    _dots(pages, day.number, dots)
    _on_the_line(pages, day.number, line)
    _sentences(pages, day.number, sums)


def _pair(pages: Pages, label: str, picture: Picture, own: str, height: float) -> None:
    """Print a picture in a frame and squared paper for the child's own beside it."""
    half = (pages.width - GAP) / 2
    _framed(pages, pages.left, half, height, label, picture)
    right = pages.left + half + GAP
    _framed(pages, right, half, height, own)
    columns = int((half - 2 * PAD) / SQUARE)
    rows = int((height - tall(LABEL) - PAD) / SQUARE)
    top = pages.y + height - PAD / 2 - rows * SQUARE
    squared(pages, right + (half - columns * SQUARE) / 2, top, columns, rows)
    pages.y += height + GAP


def _framed(
    pages: Pages, x: float, width: float, height: float, label: str, picture: Picture | None = None
) -> None:
    """Print a frame with its label, and *picture* in the middle of it."""
    frame(pages, x, pages.y, width, height)
    pages.text(x + PAD, pages.y + 1.5, label, LABEL, bold=True)
    if picture is None:
        return
    space = height - tall(LABEL) - PAD
    wide, high = size_of(picture, scale_in(picture, width - 2 * PAD, space))
    top = pages.y + tall(LABEL) + 1 + (space - high) / 2
    draw(pages, picture, x + (width - wide) / 2, top, wide, high)


def _dots(pages: Pages, number: int, height: float) -> None:
    """Print the dots, and empty squares to put as many into."""
    half = (pages.width - GAP) / 2
    amount = FiveAndDots(number) if 1 <= number <= 10 else TenFrame(number)
    _framed(pages, pages.left, half, height, _("See how many"), amount)
    _framed(pages, pages.left + half + GAP, half, height, _("Draw as many"))
    _empty_squares(pages, pages.left + half + GAP, half, height, 1 if number <= 10 else 2)
    pages.y += height + GAP


def _empty_squares(pages: Pages, x: float, width: float, height: float, tens: int) -> None:
    """Draw one or two frames of two rows of five squares in the middle of a space."""
    space = height - tall(LABEL) - PAD
    side = min((width - 2 * PAD - (tens - 1) * GAP) / (5 * tens), (space - 2) / 2)
    left = x + (width - side * 5 * tens - (tens - 1) * GAP) / 2
    top = pages.y + tall(LABEL) + 1 + (space - 2 * side) / 2
    for ten in range(tens):
        for place in range(10):
            across = left + ten * (5 * side + GAP) + place % 5 * side
            frame(pages, across, top + place // 5 * side, side, side)


def _on_the_line(pages: Pages, number: int, height: float) -> None:
    """Print a number line on which to ring the number."""
    line = NumberLine(0, 10 if number <= 10 else 20)
    label = _("Find it and put a ring round it")
    _framed(pages, pages.left, pages.width, height, label, line)
    pages.y += height + GAP


def _sentences(pages: Pages, number: int, height: float) -> None:
    """Print number sentences to fill, in two columns."""
    frame(pages, pages.left, pages.y, pages.width, height)
    label = _("Make it. Find more than one way.")
    pages.text(pages.left + PAD, pages.y + 1.5, label, LABEL, bold=True)
    sentences = list(sentences_of(number))
    half, top = pages.width / 2, pages.y + tall(LABEL) + 1
    pitch = (height - tall(LABEL) - PAD) / (-(-len(sentences) // 2))
    for place, sentence in enumerate(sentences):
        laid = lay(pages, sentence, 1, half - 2 * PAD)
        y = top + place // 2 * pitch + (pitch - laid.height) / 2
        write(pages, laid, pages.left + place % 2 * half + PAD, y, half - 2 * PAD)
    pages.y += height


def sentences_of(number: int) -> Iterator[str]:
    """Return number sentences about *number* to fill in.

    >>> list(sentences_of(7))[:2]
    ['□ + □ = 7', '7 = □ + □']
    """
    yield f"□ + □ = {number}"
    yield f"{number} = □ + □"
    yield _("one more: □")
    if number:
        yield _("one less: □")

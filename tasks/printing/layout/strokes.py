"""What the sheets draw around words: squared paper, boxes, cut lines, cautions, square codes."""

from collections.abc import Sequence
from functools import lru_cache

import segno

from tasks.printing.layout.pages import BODY, Pages, tall

SQUARE = 7.0  # of squared paper, in millimetres
FAINT = 185  # of 255: prints as a fine grey line, still seen on a poor copy
THIN, PLAIN, STRONG = 0.2, 0.4, 0.8
PAD = 3.0
LEAST_MODULE = 0.5  # millimetres; common practice, no source: three dots of 150 an inch
QUIET = 4  # modules left free around a square code (ISO/IEC 18004)


def squared(pages: Pages, x: float, y: float, columns: int, rows: int) -> None:
    """Draw squared paper of *columns* by *rows*, its corner at x, y."""
    pdf, x = pages.pdf, pages.place(x, columns * SQUARE)
    pdf.set_draw_color(FAINT)
    pdf.set_line_width(THIN)
    for row in range(rows + 1):
        pdf.line(x, y + row * SQUARE, x + columns * SQUARE, y + row * SQUARE)
    for column in range(columns + 1):
        pdf.line(x + column * SQUARE, y, x + column * SQUARE, y + rows * SQUARE)
    pdf.set_draw_color(0)


def frame(
    pages: Pages, x: float, y: float, width: float, height: float, weight: float = PLAIN
) -> None:
    """Draw an empty box."""
    pages.pdf.set_line_width(weight)
    pages.pdf.rect(pages.place(x, width), y, width, height)


def write_line(pages: Pages, x: float, y: float, width: float) -> None:
    """Draw a line to write on at the height y."""
    pages.pdf.set_line_width(THIN)
    x = pages.place(x, width)
    pages.pdf.line(x, y, x + width, y)


def cut_line(pages: Pages, x1: float, y1: float, x2: float, y2: float) -> None:
    """Draw a dashed line to cut along."""
    pages.pdf.set_line_width(PLAIN)
    pages.pdf.set_dash_pattern(dash=3, gap=2)
    pages.pdf.line(x1, y1, x2, y2)
    pages.pdf.set_dash_pattern()


def scissors(pages: Pages, x: float, y: float) -> None:
    """Draw small scissors, 9 by 5 millimetres, pointing to the right."""
    pdf = pages.pdf
    pdf.set_line_width(0.5)
    pdf.circle(x + 1.3, y + 1.3, 1.2)
    pdf.circle(x + 1.3, y + 4.1, 1.2)
    pdf.line(x + 2.3, y + 2, x + 9, y + 4.7)
    pdf.line(x + 2.3, y + 3.4, x + 9, y + 0.7)


def warning(pages: Pages, x: float, y: float) -> None:
    """Draw a warning triangle, 6 by 5.2 millimetres, with its mark."""
    pdf, x = pages.pdf, pages.place(x, 6)
    pdf.set_line_width(0.5)
    pdf.polygon([(x, y + 5.2), (x + 3, y), (x + 6, y + 5.2)])
    pdf.line(x + 3, y + 1.9, x + 3, y + 3.4)
    pdf.set_line_width(0.6)
    pdf.line(x + 3, y + 4.2, x + 3, y + 4.35)


def caution_height(pages: Pages, sentences: Sequence[str], width: float) -> float:
    """Return the height that `caution` takes."""
    return len(_caution_lines(pages, sentences, width)) * tall(BODY) + 2 * PAD - 1


def caution(pages: Pages, sentences: Sequence[str], x: float, y: float, width: float) -> float:
    """Draw *sentences* in a strong frame with a warning sign, and give the y below it."""
    height = caution_height(pages, sentences, width)
    frame(pages, x, y, width, height, STRONG)
    warning(pages, x + PAD, y + PAD - 0.5)
    pages.lines(x + PAD + 9, y + PAD, _caution_lines(pages, sentences, width), BODY)
    return y + height


def _caution_lines(pages: Pages, sentences: Sequence[str], width: float) -> list[str]:
    room = width - 2 * PAD - 9
    return [line for sentence in sentences for line in pages.wrap(sentence, room, BODY)]


@lru_cache(maxsize=256)
def _modules(address: str) -> tuple[tuple[int, int, int], ...]:
    """Return the dark runs of a square code as (row, column, length), and its size as the last."""
    code = segno.make_qr(address, error="m", boost_error=False)
    runs = []
    for row, modules in enumerate(code.matrix):
        start = None
        for column, dark in enumerate([*modules, 0]):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                runs.append((row, start, column - start))
                start = None
    return (*runs, (len(code.matrix), 0, 0))


def code_side(address: str, least: float) -> float:
    """Return how wide the code of *address* must be for a phone to read it, *least* or more."""
    size = _modules(address)[-1][0]
    return max(least, (size + 2 * QUIET) * LEAST_MODULE)


def square_code(pages: Pages, address: str, x: float, y: float, side: float) -> None:
    """Draw a square code (ISO/IEC 18004) that leads to *address*, its quiet zone within *side*."""
    *runs, (size, _none, _no) = _modules(address)
    module, x = side / (size + 2 * QUIET), pages.place(x, side)
    pages.pdf.set_fill_color(0)
    for row, column, length in runs:
        left, top = x + (column + QUIET) * module, y + (row + QUIET) * module
        pages.pdf.rect(left, top, length * module, module, style="F")

"""Ink on paper: the few marks every picture is made of, as SVG text.

Lengths are in units of the picture: sixteen units are one em of whatever the picture stands in, so
that on one page a counter is as large among three as among eighteen. Marks carry presentation
attributes only, and no ids, so that many pictures can stand in one page under a strict
content policy. `currentColor` lets the ink follow the page; paper is whatever lies behind.
"""

import re
from collections.abc import Iterable, Sequence
from math import hypot
from xml.sax.saxutils import escape, quoteattr

Point = tuple[float, float]

LINE = 2.0
BOLD = 3.5
MARGIN = 8.0
COUNTER = 10.0  # radius of every counter and dot, whatever the picture and the number
NUMERAL = 24.0  # height of the smallest numeral a child reads
WIDEST = 292.0  # what a card on a phone 360 pixels wide has room for
EM = 16.0
TINT = 0.15

_PAIR = re.compile(r"(-?[\d.]+) (-?[\d.]+)")


def number(value: float) -> str:
    """Write a length with two decimals at most.

    >>> number(2.0), number(1.256), number(-0.001)
    ('2', '1.26', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def mark(name: str, **attributes: str | float) -> str:
    """Return one SVG element; underscores in attribute names become hyphens.

    >>> mark("circle", cx=4, stroke_width=1.5)
    '<circle cx="4" stroke-width="1.5"/>'
    """
    words = [name]
    for key, value in attributes.items():
        shown = value if isinstance(value, str) else number(value)
        words.append(f"{key.replace('_', '-')}={quoteattr(shown)}")
    return f"<{' '.join(words)}/>"


def solid(x: float, y: float, radius: float = COUNTER) -> str:
    """Return a counter drawn solid, centred at x, y."""
    return mark("circle", cx=x, cy=y, r=radius, fill="currentColor")


def ring(x: float, y: float, radius: float = COUNTER) -> str:
    """Return a counter drawn as an outline, centred at x, y."""
    return mark("circle", cx=x, cy=y, r=radius)


def box(x: float, y: float, width: float, height: float, bold: bool = False) -> str:
    """Return an empty box with its upper left corner at x, y."""
    weight = BOLD if bold else LINE
    return mark("rect", x=x, y=y, width=width, height=height, stroke_width=weight)


def tinted(x: float, y: float, width: float, height: float) -> str:
    """Return a box with a bold outline and a light fill."""
    return mark(
        "rect",
        x=x,
        y=y,
        width=width,
        height=height,
        fill="currentColor",
        fill_opacity=TINT,
        stroke_width=BOLD,
    )


def line(x1: float, y1: float, x2: float, y2: float, bold: bool = False) -> str:
    """Return a straight stroke from x1, y1 to x2, y2."""
    return mark("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke_width=BOLD if bold else LINE)


def cross(x: float, y: float, reach: float) -> str:
    """Return two bold strokes crossing at x, y, each going *reach* to every side."""
    return (
        f'<path d="M{number(x - reach)} {number(y - reach)}L{number(x + reach)} {number(y + reach)}'
        f"M{number(x - reach)} {number(y + reach)}L{number(x + reach)} {number(y - reach)}"
        f'" stroke-width="{number(BOLD)}"/>'
    )


def trail(points: Sequence[Point], closed: bool = False) -> str:
    """Return the path data of straight strokes through *points*."""
    steps = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{steps}{'Z' if closed else ''}"


def arrow_head(behind: Point, tip: Point) -> str:
    """Return an arrow head with its point at *tip*, coming from *behind*."""
    dx, dy = tip[0] - behind[0], tip[1] - behind[1]
    length = hypot(dx, dy)
    ux, uy = dx / length * 7, dy / length * 7
    points = [
        (tip[0] - ux - uy * 0.6, tip[1] - uy + ux * 0.6),
        tip,
        (tip[0] - ux + uy * 0.6, tip[1] - uy - ux * 0.6),
    ]
    return mark("path", d=trail(points), stroke_width=2.5)


def moved(data: str, dx: float, dy: float, scale: float = 1.0, narrow: float = 1.0) -> str:
    """Scale path data, then shift it, to a tenth of a unit; absolute M, L, Q, C and Z only.

    narrow: how much of its width it keeps.

    >>> moved("M1 2L3 4", 10, 0, 2)
    'M12 4L16 8'
    """

    def place(pair: re.Match[str]) -> str:
        x, y = float(pair[1]) * scale * narrow + dx, float(pair[2]) * scale + dy
        return f"{number(round(x, 1))} {number(round(y, 1))}"

    return _PAIR.sub(place, data)


def letters(text: str, x: float, y: float, size: float) -> str:
    """Return *text* centred at x on the base line y, in the letters children read."""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-family="Andika, sans-serif" '
        f'font-size="{number(size)}" text-anchor="middle" fill="currentColor" stroke="none">'
        f"{escape(text)}</text>"
    )


def squares(x: float, y: float, columns: int, rows: int, side: float) -> str:
    """Return faint squared paper of columns by rows, its upper left corner at x, y."""
    right, bottom = x + columns * side, y + rows * side
    across = [trail([(x, y + row * side), (right, y + row * side)]) for row in range(rows + 1)]
    down = [trail([(x + col * side, y), (x + col * side, bottom)]) for col in range(columns + 1)]
    return mark("path", d="".join(across + down), stroke_opacity=0.2, stroke_width=1)


def sheet(title: str, width: float, height: float, marks: Iterable[str]) -> str:
    """Return a whole SVG image of width by height units; *title* is its text alternative."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(width)} {number(height)}" '
        f'width="{number(width / EM)}em" height="{number(height / EM)}em" '
        f'role="img" fill="none" stroke="currentColor" stroke-width="{number(LINE)}" '
        f'stroke-linecap="round" stroke-linejoin="round"><title>{escape(title)}</title>'
        f"{''.join(marks)}</svg>"
    )

"""Pictures of number on the page: how large, and drawn in ink that needs no see-through colours."""

import re
from functools import lru_cache
from io import BytesIO

from tasks.numberwork.pictures import Drawing, Picture
from tasks.numberwork.pictures.ink import LINE, number
from tasks.printing.layout.pages import FAMILY, Pages

LEAST_SIDE = 30.0  # millimetres of the longer side: what a child can point into
# Millimetres a unit: dots come out 5 mm wide and numerals 6 mm high; or 3 mm and 4 mm.
LEAST_SCALE, SMALL_SCALE = 0.25, 0.16

_FILL = re.compile(r'fill="currentColor" fill-opacity="([\d.]+)"')
_FONT = 'font-family="Andika, sans-serif"'
_STROKE = re.compile(r'stroke-opacity="([\d.]+)"')


@lru_cache(maxsize=1024)
def drawing_of(picture: Picture) -> Drawing:
    """Lay *picture* out; it is asked for its size several times before it is drawn."""
    return picture.draw()


def scale_in(picture: Picture, width: float, height: float, side: float = LEAST_SIDE) -> float:
    """Return the millimetres a unit at which *picture* goes into *width* by *height* millimetres.

    As large as goes into the space; but no smaller than can be read, even if that is higher.
    Callers give wide pictures the full width of the page: see `least_width`. *side*: the least
    length of its longer side, in millimetres.
    """
    drawing = drawing_of(picture)
    scale = max(min(width / drawing.width, height / drawing.height), _least_scale(picture, side))
    return min(scale, width / drawing.width)


def size_of(picture: Picture, scale: float) -> tuple[float, float]:
    """Return width and height of *picture* in millimetres, at so many millimetres a unit."""
    drawing = drawing_of(picture)
    return drawing.width * scale, drawing.height * scale


def least_width(picture: Picture, side: float = LEAST_SIDE) -> float:
    """Give the smallest width at which *picture* can be read and pointed into, in millimetres."""
    return drawing_of(picture).width * _least_scale(picture, side)


def _least_scale(picture: Picture, side: float) -> float:
    drawing = drawing_of(picture)
    # Small sides are asked for where a child writes below the picture and does not point into it.
    least = LEAST_SCALE if side == LEAST_SIDE else SMALL_SCALE
    return max(least, side / max(drawing.width, drawing.height))


def draw(pages: Pages, picture: Picture, x: float, y: float, width: float, height: float) -> None:
    """Draw *picture* at x, y, *width* by *height* millimetres large (see `size_of`)."""
    pages.pdf.image(BytesIO(ink(picture)), pages.place(x, width), y, width, height)


@lru_cache(maxsize=512)
def ink(picture: Picture) -> bytes:
    """Return *picture* as SVG in plain greys, its words in the letters of these pages.

    See-through ink is turned into the grey it makes on white: old printers smear the former.
    """
    drawing = drawing_of(picture)
    marks = "".join(drawing.marks).replace(_FONT, f'font-family="{FAMILY}"')
    marks = _FILL.sub(lambda found: f'fill="{_grey(found[1])}"', marks)
    marks = _STROKE.sub(lambda found: f'stroke="{_grey(found[1])}"', marks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" '
        f'viewBox="0 0 {number(drawing.width)} {number(drawing.height)}" fill="none" '
        f'stroke="#000" stroke-width="{number(LINE)}" stroke-linecap="round" '
        f'stroke-linejoin="round">{marks.replace("currentColor", "#000")}</svg>'
    ).encode()


def _grey(opacity: str) -> str:
    level = round(255 * (1 - float(opacity)))
    return f"#{level:02x}{level:02x}{level:02x}"

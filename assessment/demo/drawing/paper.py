"""A page of squared paper with a child's pencil on it, and shapes cut out of coloured paper."""

import random
from functools import cache

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from assessment.demo.drawing.handwriting import pencilled
from assessment.demo.drawing.surfaces import grain

PAGE = (900, 700)
FINER = 2
PAPER, SQUARES, MARGIN, PENCIL = (251, 249, 241), (184, 206, 224), (222, 150, 150), (62, 64, 74)
SQUARE = 40
SHEETS = {"circle": (226, 158, 74), "square": (112, 152, 128), "oblong": (196, 112, 104)}
CUTS = ("middle", "corner to corner", "off the middle")


@cache
def blank_page() -> Image.Image:
    """Draw an empty page: squares, a margin, a curl of light."""
    page = Image.new("RGB", PAGE, PAPER)
    pen = ImageDraw.Draw(page)
    for at in range(SQUARE // 2, PAGE[0], SQUARE):
        pen.line([(at, 0), (at, PAGE[1])], SQUARES, 2)
    for at in range(SQUARE // 2, PAGE[1], SQUARE):
        pen.line([(0, at), (PAGE[0], at)], SQUARES, 2)
    pen.line([(100, 0), (100, PAGE[1])], MARGIN, 3)
    falls = Image.linear_gradient("L").rotate(90).resize(PAGE).point(lambda v: 255 - v // 14)
    return ImageChops.multiply(page, Image.merge("RGB", [falls] * 3))


def squared_page(lines: list[str], rings: tuple[int, ...], chance: random.Random) -> Image.Image:
    """Draw a page with *lines* pencilled on it, and below them a ring around so many dots each."""
    marks = Image.new("L", (PAGE[0] * FINER, PAGE[1] * FINER))
    pen = ImageDraw.Draw(marks)
    top = 40.0
    for text in lines:
        write(pen, text, (130.0 + chance.uniform(-8, 14), top), 92.0, chance)
        top += 130
    for number, dots in enumerate(rings):
        ring(pen, (260 + 300 * number, top + 105), dots, chance)
    page = blank_page().copy()
    page.paste(PENCIL, (0, 0), graphite(marks, chance))
    return page.convert("RGBA").rotate(chance.uniform(-5, 5), Image.Resampling.BICUBIC, expand=True)


def graphite(marks: Image.Image, chance: random.Random) -> Image.Image:
    """Make smooth *marks* as rough as a pencil's, at the size of the page."""
    small = marks.reduce(FINER)
    rough = grain((PAGE[0] // 2, PAGE[1] // 2), chance).resize(PAGE)
    return ImageChops.multiply(small, rough.point(lambda value: 140 + value * 115 // 255))


def write(
    pen: ImageDraw.ImageDraw, text: str, at: tuple[float, float], high: float, chance: random.Random
) -> None:
    """Pencil *text* with its top left corner near *at*, about *high* pixels high."""
    left, scale = at[0], high / 100
    for width, strokes in pencilled(text, chance):
        drop = at[1] + chance.uniform(-6, 6)
        for stroke in strokes:
            points = [((left + x * scale) * FINER, (drop + y * scale) * FINER) for x, y in stroke]
            pen.line(points, chance.randint(205, 255), chance.randint(12, 16), joint="curve")
        left += (width + 20) * scale


def ring(
    pen: ImageDraw.ImageDraw, middle: tuple[float, float], dots: int, chance: random.Random
) -> None:
    """Pencil a wobbly ring with *dots* in it."""
    x, y = middle
    for turn in range(2):
        drift = chance.uniform(-5, 5) + 4 * turn
        box = [x - 110 + drift, y - 78 - drift, x + 112, y + 80 + drift]
        start = chance.randint(0, 90)
        pen.arc([part * FINER for part in box], start, start + 350, 230, 9)
    for number in range(dots):
        at_x = x - 70 + 47 * (number % 4) + chance.uniform(-7, 7)
        at_y = y - 32 + 44 * (number // 4) + chance.uniform(-7, 7)
        pen.ellipse(
            [(at_x - 9) * FINER, (at_y - 9) * FINER, (at_x + 9) * FINER, (at_y + 8) * FINER], 235
        )


def cut_shape(shape: str, cut: str) -> list[Image.Image]:
    """Return the two pieces of a paper *shape*: equal, but for the cut "off the middle"."""
    side = 300
    size = (side * FINER, side * FINER)
    mask = Image.new("L", size)
    pen = ImageDraw.Draw(mask)
    far = side * FINER - 8
    if shape == "circle":
        pen.ellipse([8, 8, far, far], 255)
    else:
        inset = 8 if shape == "square" else far // 5
        pen.rectangle([8, inset, far, side * FINER - inset], 255)
    first = Image.new("L", size)
    pen = ImageDraw.Draw(first)
    if cut == "corner to corner":
        inset = 8 if shape != "oblong" else far // 5
        pen.polygon([(8, inset), (far, side * FINER - inset), (8, side * FINER - inset)], 255)
    else:
        at = size[0] // 2 if cut == "middle" else size[0] * 7 // 24
        pen.rectangle([0, 0, at, size[1]], 255)
    pieces = (ImageChops.multiply(mask, first), ImageChops.multiply(mask, ImageChops.invert(first)))
    return [paper_piece(piece, SHEETS[shape]) for piece in pieces]


def paper_piece(mask: Image.Image, colour: tuple[int, int, int]) -> Image.Image:
    """Return a piece of coloured paper in the shape of *mask*, cropped to it."""
    piece = Image.new("RGBA", mask.size, (*colour, 255))
    piece.putalpha(mask)
    small = piece.reduce(FINER)
    soft = small.filter(ImageFilter.GaussianBlur(0.5))
    return soft.crop(soft.getbbox())

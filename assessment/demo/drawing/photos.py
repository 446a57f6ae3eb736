"""Photos of number work on a kitchen table, drawn by the program: nobody's child, no stock."""

import io
import random

from PIL import Image, ImageFilter

from assessment.demo.drawing.paper import cut_shape, squared_page
from assessment.demo.drawing.surfaces import SIZE, lay, top
from assessment.demo.drawing.things import THINGS, mug, pencil, places, plate


def as_jpeg(picture: Image.Image, *, turned: bool = False) -> bytes:
    """Return *picture* as a phone would send it: turned ones lie on their side and say so."""
    buffer = io.BytesIO()
    exif = Image.Exif()
    if turned:
        picture = picture.transpose(Image.Transpose.ROTATE_90)
        exif[0x0112] = 6  # Exif 2.32, Orientation: turn a quarter clockwise to see it upright
    picture.save(buffer, "JPEG", quality=82, exif=exif)
    return buffer.getvalue()


def page(
    lines: list[str], rings: tuple[int, ...], table: str, chance: random.Random
) -> Image.Image:
    """Draw a page of a squared exercise book with *lines* pencilled on it, and rings of dots."""
    picture = top(table).copy()
    lay(picture, squared_page(lines, rings, chance), (610, 480), 10)
    turned = pencil().rotate(chance.randint(58, 74), Image.Resampling.BICUBIC, expand=True)
    lay(picture, turned, (1140, 560), 9)
    return picture.filter(ImageFilter.GaussianBlur(0.4))


def plates(
    groups: tuple[int, ...], loose: int, things: str, table: str, chance: random.Random
) -> Image.Image:
    """Draw plates with so many *things* on each, and *loose* ones on the table."""
    picture = top(table).copy()
    wide = SIZE[0] // len(groups)
    radius = min(285, wide // 2 - 24)
    draw = THINGS[things]
    for number, count in enumerate(groups):
        middle = (wide * number + wide // 2 + chance.randint(-8, 8), 400 + chance.randint(-20, 20))
        lay(picture, plate(radius), middle, 16)
        for order, (x, y) in enumerate(places(count, radius * 0.6, chance)):
            lay(picture, draw(order + number), (middle[0] + x, middle[1] + y), 6)
    for number in range(loose):
        at = (200 + 110 * number + chance.randint(-14, 14), 850 + chance.randint(-30, 30))
        lay(picture, draw(number + 3), at, 6)
    return picture.filter(ImageFilter.GaussianBlur(0.4))


def row(count: int, things: str, table: str, chance: random.Random) -> Image.Image:
    """Draw *count* things in rows of five on the table, beside a mug."""
    picture = top(table).copy()
    lay(picture, mug(), (1110, 190), 18)
    for number in range(count):
        x = 180 + 170 * (number % 5) + chance.randint(-16, 16)
        y = 330 + 190 * (number // 5) + chance.randint(-18, 18)
        lay(picture, THINGS[things](number), (x, y), 6)
    return picture.filter(ImageFilter.GaussianBlur(0.4))


def shapes(cuts: list[tuple[str, str]], table: str, chance: random.Random) -> Image.Image:
    """Draw paper shapes, each cut in two: (shape, cut) as `cut_shape` knows them."""
    picture = top(table).copy()
    wide = SIZE[0] // len(cuts)
    for number, (shape, cut) in enumerate(cuts):
        x, y = wide * number + wide // 2, 470 + chance.randint(-60, 60)
        first, second = cut_shape(shape, cut)
        if cut == "corner to corner":
            lay(picture, first, (x - 16, y + 16), 5)
            lay(picture, second, (x + 16, y - 16), 5)
        else:
            whole = first.width + second.width
            lay(picture, first, (x - whole / 2 + first.width / 2 - 16, y), 5)
            lay(picture, second, (x + whole / 2 - second.width / 2 + 16, y + 6), 5)
    return picture.filter(ImageFilter.GaussianBlur(0.4))

"""Small things of a kitchen, each drawn once, larger than it is shown, so that its edge is soft."""

import random
from collections.abc import Callable
from functools import cache

from PIL import Image, ImageDraw, ImageFilter

FINER, SMALL = 3, 2  # drawn this many times larger than a plate or mug, or than small things
Colour = tuple[int, int, int]
Pen = ImageDraw.ImageDraw

BUTTONS: tuple[Colour, ...] = ((62, 98, 138), (150, 60, 70), (74, 122, 92), (206, 164, 72))
PASTA, PASTA_EDGE, PASTA_DARK = (236, 198, 118), (196, 150, 74), (150, 106, 48)
BEAN, BEAN_LIGHT = (122, 46, 40), (196, 128, 112)
BLOCKS: tuple[Colour, ...] = ((214, 180, 130), (200, 160, 110))
PLATE, PLATE_EDGE, PLATE_LINE = (247, 246, 241), (214, 214, 208), (92, 124, 152)
TEA, MUG, MUG_EDGE = (128, 72, 34), (206, 92, 70), (158, 62, 48)


def tile(wide: int, high: int) -> tuple[Image.Image, Pen]:
    """Return an empty tile to draw on, FINER times larger, and its pen."""
    image = Image.new("RGBA", (wide * FINER, high * FINER))
    return image, ImageDraw.Draw(image)


def darker(colour: Colour, by: int = 40) -> Colour:
    """Return *colour* with less light; a negative *by* gives it more."""
    red, green, blue = (max(0, min(255, part - by)) for part in colour)
    return red, green, blue


@cache
def button(number: int) -> Image.Image:
    """Draw a button with four holes; *number* chooses its colour."""
    colour = BUTTONS[number % len(BUTTONS)]
    image, pen = tile(60, 60)
    pen.ellipse([3, 3, 176, 176], darker(colour, 30))
    pen.ellipse([3, 3, 172, 170], colour)
    pen.ellipse([26, 26, 150, 150], darker(colour, 18))
    pen.ellipse([28, 30, 150, 152], darker(colour, -14))
    for x in (70, 108):
        for y in (70, 108):
            pen.ellipse([x - 10, y - 10, x + 10, y + 10], darker(colour, 70))
    pen.arc([14, 14, 164, 162], 190, 275, (255, 255, 255, 150), 6)
    return image.reduce(SMALL)


@cache
def pasta(number: int) -> Image.Image:
    """Draw a short tube of pasta with ridges and a slanting cut."""
    image, pen = tile(84, 44)
    body = [(36, 30), (220, 14), (236, 92), (66, 116)]
    pen.polygon(body, PASTA)
    pen.polygon([(66, 116), (236, 92), (234, 104), (72, 124)], PASTA_EDGE)
    for share in (0.2, 0.38, 0.56, 0.74):
        start = (36 + 30 * share, 30 + 86 * share)
        end = (220 + 16 * share, 14 + 78 * share)
        pen.line([start, end], PASTA_EDGE, 3)
    pen.ellipse([24, 28, 76, 120], PASTA_EDGE)
    pen.ellipse([32, 40, 66, 110], PASTA_DARK)
    pen.line([(60, 34), (216, 22)], (255, 240, 200), 5)
    return image.reduce(SMALL).rotate(number * 47 % 180 - 90, Image.Resampling.BICUBIC, expand=True)


@cache
def bean(number: int) -> Image.Image:
    """Draw a kidney bean."""
    image, pen = tile(62, 46)
    pen.ellipse([14, 20, 110, 122], BEAN)
    pen.ellipse([78, 14, 174, 116], BEAN)
    pen.rectangle([62, 22, 124, 96], BEAN)
    pen.ellipse([64, 92, 124, 150], (0, 0, 0, 0))
    pen.ellipse([34, 34, 78, 58], BEAN_LIGHT)
    pen.arc([80, 24, 164, 108], 270, 340, BEAN_LIGHT, 5)
    soft = image.filter(ImageFilter.GaussianBlur(1.5))
    return soft.reduce(SMALL).rotate(number * 61 % 360, Image.Resampling.BICUBIC, expand=True)


@cache
def block(number: int) -> Image.Image:
    """Draw a small wooden block from above."""
    colour = BLOCKS[number % len(BLOCKS)]
    image, pen = tile(60, 60)
    pen.rounded_rectangle([8, 8, 172, 172], 14, darker(colour, 60))
    pen.rounded_rectangle([8, 8, 164, 160], 14, colour)
    for y in (40, 66, 104, 132):
        pen.arc([-60, y - 60, 240, y + 40], 60, 120, darker(colour, 16), 4)
    return image.reduce(SMALL).rotate(number * 23 % 40 - 20, Image.Resampling.BICUBIC, expand=True)


THINGS: dict[str, Callable[[int], Image.Image]] = {
    "buttons": button,
    "pasta": pasta,
    "beans": bean,
    "blocks": block,
}


@cache
def plate(radius: int) -> Image.Image:
    """Draw a plate from above: a rim with one line, and a hollow."""
    image, pen = tile(2 * radius, 2 * radius)
    far = 2 * radius * FINER - 1

    def ring(share: float, colour: Colour, shift: int = 0) -> None:
        at = far * (1 - share) / 2
        pen.ellipse([at + shift, at + shift, far - at + shift, far - at + shift], colour)

    ring(1.0, PLATE_EDGE)
    ring(0.985, PLATE)
    ring(0.94, PLATE_LINE)
    ring(0.925, PLATE)
    ring(0.74, darker(PLATE, 26), -4)
    ring(0.74, darker(PLATE, -6), 4)
    ring(0.725, PLATE)
    return image.reduce(FINER)


@cache
def mug() -> Image.Image:
    """Draw a mug of tea from above."""
    image, pen = tile(250, 200)
    pen.rounded_rectangle([470, 250, 720, 350], 50, MUG_EDGE)
    pen.rounded_rectangle([470, 280, 690, 320], 20, (0, 0, 0, 0))
    pen.ellipse([6, 6, 590, 590], MUG_EDGE)
    pen.ellipse([6, 6, 584, 584], MUG)
    pen.ellipse([44, 44, 552, 552], darker(MUG, 50))
    pen.ellipse([56, 60, 544, 548], TEA)
    pen.arc([90, 90, 510, 510], 200, 260, darker(TEA, -70), 10)
    return image.reduce(FINER)


@cache
def pencil() -> Image.Image:
    """Draw a pencil lying level, its tip to the right."""
    image, pen = tile(430, 26)
    green: Colour = (52, 104, 84)
    pen.rectangle([0, 6, 1130, 72], green)
    pen.rectangle([0, 28, 1130, 48], darker(green, -30))
    pen.rectangle([0, 60, 1130, 72], darker(green, 30))
    pen.polygon([(1130, 6), (1130, 72), (1270, 40)], (226, 190, 140))
    pen.polygon([(1226, 29), (1226, 51), (1272, 40)], (52, 54, 60))
    return image.reduce(FINER)


def places(count: int, reach: float, chance: random.Random) -> list[tuple[float, float]]:
    """Return *count* places within *reach* of the middle, in loose rows that do not touch."""
    across = max(1, round(count**0.5))
    rows = [range(start, min(start + across, count)) for start in range(0, count, across)]
    step = 2 * reach / max(across, len(rows), 2)
    return [
        (
            (column - (len(row) - 1) / 2) * step + chance.uniform(-0.1, 0.1) * step,
            (line - (len(rows) - 1) / 2) * step + chance.uniform(-0.1, 0.1) * step,
        )
        for line, row in enumerate(rows)
        for column in range(len(row))
    ]

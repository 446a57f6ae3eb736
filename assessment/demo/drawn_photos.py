"""Photos of number work on a kitchen table, drawn by the program: nobody's child, no stock."""

import io
import random

from PIL import Image, ImageDraw, ImageFilter

from assessment.demo.handwriting import pencilled

SIZE = (1600, 1200)
WOOD, PAPER, SQUARES, PENCIL = (176, 137, 98), (250, 248, 240), (186, 205, 222), (58, 60, 70)
PLATE, PLATE_RIM, SHADOW = (244, 244, 240), (205, 208, 206), (70, 50, 34)
THINGS = {"pasta": (232, 192, 110), "buttons": (86, 110, 140), "beans": (140, 62, 48)}


def as_jpeg(picture: Image.Image, *, turned: bool = False) -> bytes:
    """Give *picture* as a phone would send it: turned ones lie on their side and say so."""
    held = io.BytesIO()
    exif = Image.Exif()
    if turned:
        picture = picture.transpose(Image.Transpose.ROTATE_90)
        exif[0x0112] = 6  # Exif 2.32, Orientation: turn a quarter clockwise to see it upright
    picture.save(held, "JPEG", quality=88, exif=exif)
    return held.getvalue()


def table(chance: random.Random) -> Image.Image:
    """Draw the table top: boards with a grain."""
    picture = Image.new("RGB", SIZE, WOOD)
    pen = ImageDraw.Draw(picture)
    for y in range(0, SIZE[1], 3):
        shade = chance.randint(-9, 9)
        pen.line([(0, y), (SIZE[0], y + chance.randint(-6, 6))], tuple(c + shade for c in WOOD), 3)
    for y in range(220, SIZE[1], 300):
        pen.line([(0, y), (SIZE[0], y + 4)], tuple(c - 46 for c in WOOD), 4)
    return picture.filter(ImageFilter.GaussianBlur(1.2))


def squared_page(lines: list[str], chance: random.Random) -> Image.Image:
    """Draw a page of a squared exercise book on the table, with *lines* pencilled on it."""
    page = Image.new("RGB", (1150, 950), PAPER)
    pen = ImageDraw.Draw(page)
    for at in range(0, 1200, 50):
        pen.line([(at, 0), (at, 950)], SQUARES, 2)
        pen.line([(0, at), (1150, at)], SQUARES, 2)
    top = 90.0
    for text in lines:
        write(pen, text, (100.0, top), 130.0, chance)
        top += 200
    picture = table(chance)
    turned = page.convert("RGBA").rotate(chance.uniform(-5, 5), expand=True, resample=3)
    shadow = Image.new("RGBA", turned.size, (*SHADOW, 0))
    shadow.putalpha(turned.getchannel("A").point(lambda value: value // 3))
    picture.paste(shadow, (208, 108), shadow.filter(ImageFilter.GaussianBlur(8)))
    picture.paste(turned, (195, 92), turned)
    return picture


def write(
    pen: ImageDraw.ImageDraw, text: str, at: tuple[float, float], high: float, chance: random.Random
) -> None:
    """Pencil *text* with its top left corner near *at*, about *high* pixels high."""
    left, scale = at[0], high / 100
    for width, strokes in pencilled(text, chance):
        drop = at[1] + chance.uniform(-9, 9)
        for stroke in strokes:
            points = [(left + x * scale, drop + y * scale) for x, y in stroke]
            pen.line(points, PENCIL, width=9, joint="curve")
        left += (width + 22) * scale


def plates(groups: tuple[int, ...], loose: int, things: str, chance: random.Random) -> Image.Image:
    """Draw plates with so many *things* on each, and *loose* ones on the table."""
    picture = table(chance)
    pen = ImageDraw.Draw(picture)
    wide = SIZE[0] // len(groups)
    for number, count in enumerate(groups):
        middle = (wide * number + wide // 2, 520)
        radius = min(330, wide // 2 - 40)
        plate(pen, middle, radius)
        for place in places(count, radius * 0.62, chance):
            thing(pen, (middle[0] + place[0], middle[1] + place[1]), THINGS[things])
    for number in range(loose):
        thing(pen, (240 + 130 * number, 1060 + chance.randint(-25, 25)), THINGS[things])
    return picture.filter(ImageFilter.GaussianBlur(0.8))


def plate(pen: ImageDraw.ImageDraw, middle: tuple[int, int], radius: int) -> None:
    """Draw one plate from above, with its shadow and rim."""
    x, y = middle
    pen.ellipse([x - radius + 14, y - radius + 18, x + radius + 14, y + radius + 18], SHADOW)
    pen.ellipse([x - radius, y - radius, x + radius, y + radius], PLATE, PLATE_RIM, 6)
    inner = int(radius * 0.76)
    pen.ellipse([x - inner, y - inner, x + inner, y + inner], None, PLATE_RIM, 4)


def places(count: int, reach: float, chance: random.Random) -> list[tuple[float, float]]:
    """Give *count* places within *reach* of the middle, in loose rows that do not touch."""
    across = max(1, round(count**0.5))
    rows = [range(start, min(start + across, count)) for start in range(0, count, across)]
    step = 2 * reach / max(across, len(rows), 2)
    return [
        (
            (column - (len(row) - 1) / 2) * step + chance.uniform(-0.12, 0.12) * step,
            (line - (len(rows) - 1) / 2) * step + chance.uniform(-0.12, 0.12) * step,
        )
        for line, row in enumerate(rows)
        for column in range(len(row))
    ]


def thing(
    pen: ImageDraw.ImageDraw, at: tuple[float, float], colour: tuple[int, int, int], size: int = 38
) -> None:
    """Draw one small thing to count, lit from the upper left."""
    x, y = at
    pen.ellipse(
        [x - size + 6, y - size + 9, x + size + 6, y + size + 9], tuple(c // 2 for c in colour)
    )
    pen.ellipse([x - size, y - size, x + size, y + size], colour)
    light = tuple(min(255, c + 45) for c in colour)
    pen.ellipse([x - size * 0.6, y - size * 0.65, x + size * 0.1, y - size * 0.05], light)

"""Table tops, light and shadow: what the drawn photos lie on."""

import random
from functools import cache

from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageOps

SIZE = (1280, 960)
BOARDS = {
    "oak": ((122, 84, 50), (214, 174, 124)),
    "pine": ((176, 132, 80), (240, 208, 158)),
    "dark": ((64, 42, 30), (134, 96, 70)),
}
CLOTH, CHECK = (238, 236, 228), (96, 132, 150)
SHADOW = (30, 20, 14)
SOFT = 4  # shadows are drawn this many times smaller: nobody sees it, and they blur fast


def grain(size: tuple[int, int], chance: random.Random) -> Image.Image:
    """Return grey noise of *size*."""
    return Image.frombytes("L", size, chance.randbytes(size[0] * size[1]))


@cache
def top(name: str) -> Image.Image:
    """Draw a table top by its name: boards of wood, or "cloth"."""
    chance = random.Random(name)  # noqa: S311 - a picture, not a secret
    picture = cloth(chance) if name == "cloth" else boards(*BOARDS[name], chance)
    return ImageChops.multiply(picture, window_light())


def boards(
    dark: tuple[int, int, int], light: tuple[int, int, int], chance: random.Random
) -> Image.Image:
    """Draw boards side by side, each with a grain and a tone of its own."""
    picture = Image.new("RGB", SIZE)
    height = SIZE[1] // 4
    for number in range(4):
        size = (SIZE[0], height)
        fine = grain((24, height // 2), chance).resize(size, Image.Resampling.BICUBIC)
        broad = grain((5, 12), chance).resize(size, Image.Resampling.BICUBIC)
        tone = Image.new("L", size, chance.randint(110, 190))
        mixed = Image.blend(Image.blend(broad, fine, 0.45), tone, 0.5)
        board = ImageOps.colorize(mixed, dark, light)
        ImageDraw.Draw(board).line([(0, height - 1), (SIZE[0], height - 1)], dark, 3)
        picture.paste(board, (0, number * height))
    return picture.filter(ImageFilter.GaussianBlur(0.7))


def cloth(chance: random.Random) -> Image.Image:
    """Draw a checked table cloth."""
    picture = Image.new("RGB", SIZE, CLOTH)
    stripes = Image.new("L", SIZE, 0)
    pen = ImageDraw.Draw(stripes)
    for at in range(0, SIZE[0], 160):
        pen.rectangle([at, 0, at + 79, SIZE[1]], 90)
    across = Image.new("L", SIZE, 0)
    pen = ImageDraw.Draw(across)
    for at in range(0, SIZE[1], 160):
        pen.rectangle([0, at, SIZE[0], at + 79], 90)
    picture.paste(CHECK, (0, 0), ImageChops.add(stripes, across))
    weave = grain((320, 240), chance).resize(SIZE).point(lambda value: 228 + value // 10)
    return ImageChops.multiply(picture, Image.merge("RGB", [weave] * 3))


@cache
def window_light() -> Image.Image:
    """Return the light of a window at the upper left, to multiply a picture by."""
    round_it = Image.radial_gradient("L").resize((SIZE[0] * 2, SIZE[1] * 2))
    lit = round_it.crop((SIZE[0] * 3 // 4, SIZE[1] * 3 // 4, SIZE[0] * 7 // 4, SIZE[1] * 7 // 4))
    falls = lit.point(lambda value: max(150, 255 - value // 2))
    return Image.merge("RGB", [falls, falls.point(lambda v: v - 2), falls.point(lambda v: v - 8)])


def lay(picture: Image.Image, sprite: Image.Image, middle: tuple[float, float], lift: int) -> None:
    """Lay *sprite* on *picture* around *middle*, with a soft shadow as of something *lift* high."""
    left, up = round(middle[0] - sprite.width / 2), round(middle[1] - sprite.height / 2)
    room = 3 * lift
    mask = Image.new("L", (sprite.width + 2 * room, sprite.height + 2 * room))
    mask.paste(sprite.getchannel("A"), (room, room))
    small = mask.reduce(SOFT).filter(ImageFilter.GaussianBlur(lift / SOFT * 0.7))
    soft = small.resize(mask.size).point(lambda value: value * 2 // 5)
    picture.paste(SHADOW, (left - room + lift // 2, up - room + lift), soft)
    picture.paste(sprite, (left, up), sprite)

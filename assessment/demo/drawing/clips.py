"""Short clips of things being shared between two plates, one at a time."""

import io
import random
from fractions import Fraction

import av
from PIL import Image

from assessment.demo.drawing.surfaces import SIZE as FULL
from assessment.demo.drawing.surfaces import lay, top
from assessment.demo.drawing.things import THINGS, plate

SIZE = (FULL[0] // 2, FULL[1] // 2)
RATE = 10  # pictures a second
MOVE = 6  # pictures for one thing to move
Place = tuple[float, float]


def sharing(total: int, things: str, table: str) -> bytes:
    """Return an MP4 in which *total* things are dealt out to two plates, about ½ s each."""
    ground = top(table).copy()
    for x in (340, 940):
        lay(ground, plate(250), (x, 320), 16)
    ground = ground.resize(SIZE)
    sprites = [halved(THINGS[things](number)) for number in range(total)]
    chance = random.Random(total)  # noqa: S311 - a story, not a secret
    start = [(60 + 52 * number, 415 + chance.randint(-14, 14)) for number in range(total)]
    goal = [home_of(number) for number in range(total)]
    pictures = []
    for moving in range(total):
        still = ground.copy()
        for number in range(total):
            if number != moving:
                lay(still, sprites[number], goal[number] if number < moving else start[number], 4)
        for step in range(MOVE):
            picture = still.copy()
            share = smooth(step / (MOVE - 1))
            at = between(start[moving], goal[moving], share)
            lay(picture, sprites[moving], at, 4 + round(40 * share * (1 - share)))
            pictures.append(picture)
    return as_mp4([*pictures, *[pictures[-1]] * RATE])


def halved(sprite: Image.Image) -> Image.Image:
    """Return *sprite* at half its size, as the clip is."""
    return sprite.reduce(2)


def home_of(number: int) -> Place:
    """Return where thing *number* lies in the end: left and right plate in turn."""
    plate_x = 170 if number % 2 == 0 else 470
    place = number // 2
    return plate_x - 50 + 50 * (place % 3), 135 + 50 * (place // 3)


def smooth(share: float) -> float:
    """Return *share* (0 to 1) as a hand moves: slowly off, slowly down."""
    return share * share * (3 - 2 * share)


def between(a: Place, b: Place, share: float) -> Place:
    """Return the point *share* of the way from *a* to *b*."""
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def as_mp4(pictures: list[Image.Image]) -> bytes:
    """Encode *pictures* as H.264 in MP4."""
    buffer = io.BytesIO()
    with av.open(buffer, "w", format="mp4") as container:
        stream = container.add_stream("libx264", rate=RATE, options={"preset": "veryfast"})
        stream.width, stream.height, stream.pix_fmt = *SIZE, "yuv420p"
        stream.time_base = Fraction(1, RATE)
        for picture in pictures:
            container.mux(stream.encode(av.VideoFrame.from_image(picture)))
        container.mux(stream.encode())
    return buffer.getvalue()

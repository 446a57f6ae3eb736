"""Short clips of things being shared between two plates, one at a time."""

import io
import random
from fractions import Fraction

import av
from PIL import Image, ImageDraw

from assessment.demo.drawn_photos import THINGS, plate, table, thing

SIZE = (640, 480)
RATE = 12  # pictures a second
MOVE = 6  # pictures for one thing to move


def sharing(total: int, things: str, chance: random.Random) -> bytes:
    """Give an MP4 in which *total* things are dealt out to two plates, about ½ s each."""
    ground = table(chance).resize(SIZE)
    pen = ImageDraw.Draw(ground)
    for x in (170, 470):
        plate(pen, (x, 170), 140)
    start = [(60 + 48 * number, 420) for number in range(total)]
    goal = [home_of(number) for number in range(total)]
    pictures = []
    for moving in range(total + 1):
        for step in range(MOVE):
            picture = ground.copy()
            pen = ImageDraw.Draw(picture)
            for number in range(total):
                at = goal[number] if number < moving else start[number]
                if number == moving:
                    at = between(start[number], goal[number], step / MOVE)
                thing(pen, at, THINGS[things], size=17)
            pictures.append(picture)
    return as_mp4(pictures)


def home_of(number: int) -> tuple[float, float]:
    """Give where thing *number* lies in the end: left and right plate in turn."""
    plate_x = 170 if number % 2 == 0 else 470
    place = number // 2
    return plate_x - 45 + 45 * (place % 3), 125 + 45 * (place // 3)


def between(a: tuple[float, float], b: tuple[float, float], share: float) -> tuple[float, float]:
    """Give the point *share* of the way from *a* to *b*."""
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def as_mp4(pictures: list[Image.Image]) -> bytes:
    """Encode *pictures* as H.264 in MP4."""
    held = io.BytesIO()
    with av.open(held, "w", format="mp4") as container:
        stream = container.add_stream("libx264", rate=RATE, options={"preset": "veryfast"})
        stream.width, stream.height, stream.pix_fmt = *SIZE, "yuv420p"
        stream.time_base = Fraction(1, RATE)
        for picture in pictures:
            container.mux(stream.encode(av.VideoFrame.from_image(picture)))
        container.mux(stream.encode())
    return held.getvalue()

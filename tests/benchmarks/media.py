"""How much more than decoding it costs to make a piece safe to show."""

import io
import tempfile
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
from PIL import Image, ImageOps

from evidence.media import Cleaned, clean
from tests.benchmarks import Figure, ratio

MEGAPIXELS_12 = (4032, 3024)


def measure() -> Iterator[Figure]:
    """Return the figures for a photo of 12 megapixels and a clip in 1080p."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        yield from photo(place)
        yield from clip(place)


def photo(place: Path) -> Iterator[Figure]:
    """Compare cleaning a photo with decoding it alone, and with doing it plainly."""
    path = place / "photo.jpg"
    path.write_bytes(photo_of(*MEGAPIXELS_12))

    def cleaned() -> None:
        assert isinstance(clean(path, place / "out"), Cleaned)

    def decoded() -> None:
        with Image.open(path) as picture:
            picture.load()

    def plainly() -> None:
        for side in (1600, 320):
            with Image.open(path) as picture:
                upright = ImageOps.exif_transpose(picture)
                upright.thumbnail((side, side))
                upright.save(place / f"{side}.jpg", quality=80)

    yield Figure("photo: clean / decode alone", ratio(cleaned, decoded), "times", most=2.5)
    yield Figure("photo: clean / done plainly", ratio(cleaned, plainly), "times", most=1)


def photo_of(width: int, height: int) -> bytes:
    """Return a JPEG with the grain of a photo, lying on its side."""
    chance = np.random.default_rng(7)
    rough = chance.integers(0, 255, (height // 16, width // 16, 3), dtype=np.uint8)
    picture = Image.fromarray(rough).resize((width, height), Image.Resampling.BICUBIC)
    exif = Image.Exif()
    exif[0x0112] = 6
    held = io.BytesIO()
    picture.save(held, "JPEG", quality=90, exif=exif)
    return held.getvalue()


def clip(place: Path) -> Iterator[Figure]:
    """Compare cleaning a clip with decoding, scaling and encoding it alone."""
    path = place / "clip.mp4"
    make_clip(path)

    def cleaned() -> None:
        assert isinstance(clean(path, place / "clip-out"), Cleaned)

    def alone() -> None:
        transcode(path, place / "alone.mp4")

    yield Figure(
        "clip: clean / decode and encode", ratio(cleaned, alone, runs=3), "times", most=1.2
    )


def make_clip(path: Path, pictures: int = 90) -> None:
    """Write three seconds of moving 1080p in H.264."""
    chance = np.random.default_rng(7)
    ground = chance.integers(0, 255, (68, 120, 3), dtype=np.uint8)
    with av.open(str(path), "w") as container:
        stream = container.add_stream("libx264", rate=30, options={"preset": "ultrafast"})
        stream.width, stream.height, stream.pix_fmt = 1920, 1080, "yuv420p"
        for number in range(pictures):
            moved = Image.fromarray(np.roll(ground, number, axis=1)).resize((1920, 1080))
            container.mux(stream.encode(av.VideoFrame.from_image(moved)))
        container.mux(stream.encode())


def transcode(source: Path, target: Path) -> None:
    """Turn *source* into 720p H.264 and nothing more: the floor."""
    with av.open(str(source)) as old, av.open(str(target), "w") as new:
        stream = new.add_stream("libx264", rate=30, options={"preset": "veryfast", "crf": "23"})
        stream.width, stream.height, stream.pix_fmt = 1280, 720, "yuv420p"
        stream.time_base = Fraction(1, 30)
        for frame in old.decode(video=0):
            small = frame.reformat(1280, 720, "yuv420p")
            small.pts = None
            new.mux(stream.encode(small))
        new.mux(stream.encode())

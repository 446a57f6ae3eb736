"""Media made for the tests: small, drawn, and of every kind a phone sends."""

import math
import os
from array import array
from collections.abc import Iterator
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import av
import mutagen.id3
import pytest
from fpdf import FPDF
from PIL import Image, ImageChops, ImageDraw, ImageStat

from tests.closing import NOT_GIVEN

ROOT = Path(__file__).resolve().parents[3]
RATE = 48_000
PIXELS = {"mjpeg": "yuvj420p"}


def shared_media(name: str) -> Path:
    """Return the path of a file other people made; where they are not given, skip the test."""
    given = os.environ.get("SHARED_MEDIA")
    folder = Path(given or ROOT.parent / "shared" / "media")
    if not given and not folder.is_dir():
        pytest.skip(NOT_GIVEN)
    assert (folder / name).is_file(), f"{name} is not in {folder}, the folder of others' files"
    return folder / name


def quarters(width: int, height: int) -> Image.Image:
    """Draw four fields: red top left, green top right, blue bottom left, white bottom right."""
    picture = Image.new("RGB", (width, height), "white")
    draw = ImageDraw.Draw(picture)
    half = width // 2, height // 2
    draw.rectangle((0, 0, half[0] - 1, half[1] - 1), fill="red")
    draw.rectangle((half[0], 0, width, half[1] - 1), fill="lime")
    draw.rectangle((0, half[1], half[0] - 1, height), fill="blue")
    return picture


def corners(picture: Image.Image) -> tuple[str, str, str, str]:
    """Name the colours top left, top right, bottom left, bottom right of *picture*."""
    width, height = picture.size
    places = [(x, y) for y in (height // 4, 3 * height // 4) for x in (width // 4, 3 * width // 4)]
    return tuple(colour_name(picture.convert("RGB").getpixel(place)) for place in places)


def colour_name(pixel: tuple[int, int, int]) -> str:
    """Name a pixel by which of its channels are bright."""
    bright = tuple(channel > 127 for channel in pixel)
    return {
        (True, False, False): "red",
        (False, True, False): "green",
        (False, False, True): "blue",
        (True, True, True): "white",
    }.get(bright, "other")


UPRIGHT = ("red", "green", "blue", "white")


def clip(
    path: Path,
    *,
    container: str = "mp4",
    video: str = "libx264",
    sound: str | None = "aac",
    seconds: float = 1.0,
    size: tuple[int, int] = (160, 120),
    rate: int = 15,
    times: list[float] | None = None,
    sound_from: float = 0.0,
    deep: bool = False,
    options: dict[str, str] | None = None,
    metadata: dict[str, str] | None = None,
    turned: int = 0,
) -> Path:
    """Film the four fields.

    times: when each picture is shown, where the rate is not steady; deep: ten bits and wide colour;
    turned: degrees anticlockwise by which players are told to turn the pictures.
    """
    with av.open(path, "w", format=container, options=options or {}) as out:
        out.metadata.update(metadata or {})
        pictures = out.add_stream(video, rate=rate)
        pictures.width, pictures.height = size
        pictures.pix_fmt = PIXELS.get(video, "yuv420p10le" if deep else "yuv420p")
        pictures.codec_context.time_base = Fraction(1, 1000)
        if turned:
            pictures.set_display_rotation(turned)
        if deep:
            pictures.codec_context.color_primaries = pictures.codec_context.colorspace = 9
            pictures.codec_context.color_trc = 18
        track = out.add_stream(sound, rate=RATE, layout="mono") if sound else None
        image = quarters(*size)
        for time in times or [number / rate for number in range(round(seconds * rate))]:
            frame = av.VideoFrame.from_image(image)
            frame.pts, frame.time_base = round(time * 1000), Fraction(1, 1000)
            out.mux(pictures.encode(frame))
        out.mux(pictures.encode(None))
        if track:
            for frame in tone(seconds, start=sound_from):
                out.mux(track.encode(frame))
            out.mux(track.encode(None))
    return path


def voice(
    path: Path,
    container: str,
    codec: str,
    *,
    seconds: float = 1.0,
    loudness: float = 0.1,
    again_at: float | None = None,
) -> Path:
    """Record a hum. *loudness*: 0 to 1 of full scale; *again_at*: once more, from that second."""
    with av.open(path, "w", format=container) as out:
        out.metadata["artist"] = "Invented Name"
        track = out.add_stream(codec, rate=RATE, layout="mono")
        for start in (0.0, again_at):
            for frame in tone(seconds, loudness=loudness, start=start) if start is not None else ():
                out.mux(track.encode(frame))
        out.mux(track.encode(None))
    return path


def tone(seconds: float, *, loudness: float = 0.1, start: float = 0.0) -> Iterator[av.AudioFrame]:
    """Yield a hum of 220 Hz in frames of 20 ms."""
    block = RATE // 50
    for number in range(round(seconds * 50)):
        at = number * block
        samples = array(
            "h",
            (
                round(32_767 * loudness * math.sin(2 * math.pi * 220 * (at + step) / RATE))
                for step in range(block)
            ),
        )
        frame = av.AudioFrame(format="s16", layout="mono", samples=block)
        frame.planes[0].update(samples.tobytes())
        frame.sample_rate, frame.time_base = RATE, Fraction(1, RATE)
        frame.pts = at + round(start * RATE)
        yield frame


def first_picture(path: Path) -> Image.Image:
    """Return the first picture of the clip at *path*."""
    with av.open(path) as source:
        return next(source.decode(video=0)).to_image()


def loudest(frame: av.AudioFrame) -> float:
    """Return the largest swing in *frame*, 0 to 1 of full scale."""
    samples = memoryview(bytes(frame.planes[0])[: frame.samples * 4]).cast("f")
    return max(abs(sample) for sample in samples)


def difference(one: Image.Image, other: Image.Image) -> float:
    """Return the mean absolute difference of two pictures, 0 to 255, at the size of the second."""
    pair = one.convert("RGB").resize(other.size), other.convert("RGB")
    return sum(ImageStat.Stat(ImageChops.difference(*pair)).mean) / 3


def with_cover(sound: Path) -> Path:
    """Add a cover picture to the MP3 at *sound*, as music programs store it."""
    cover = BytesIO()
    quarters(32, 32).save(cover, "PNG")
    tags = mutagen.id3.ID3(sound)
    tags.add(mutagen.id3.APIC(mime="image/png", type=3, data=cover.getvalue()))
    tags.save(sound)
    return sound


def pdf(
    path: Path, pages: int, *, size: tuple[float, float] = (210, 297), password: str = ""
) -> Path:
    """Write a PDF whose pages, of *size* millimetres, are red in their top left quarter."""
    document = FPDF(format=size)
    if password:
        document.set_encryption(owner_password="owner", user_password=password)
    for _ in range(pages):
        document.add_page()
        document.set_fill_color(255, 0, 0)
        document.rect(0, 0, size[0] / 2, size[1] / 2, style="F")
    document.output(str(path))
    return path

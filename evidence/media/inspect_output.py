"""Read what the child wrote, byte by byte and without a decoder, and trust nothing else in it.

A child that a hostile file has taken over could leave anything. Only a plain JPEG or MP4 that has
no room for metadata passes.
"""

from itertools import islice
from pathlib import Path
from typing import BinaryIO

from evidence.media.boxes import Box, BrokenBoxError, boxes

# JPEG segments a picture needs (ITU-T T.81, table B.1): tables, frame, scan, and JFIF's APP0.
# Not here: APP1 to APP15 (EXIF, XMP, profiles) and COM (comments).
SEGMENTS = {0xC0, 0xC2, 0xC4, 0xDB, 0xDD, 0xE0}
START_OF_SCAN = 0xDA
PLAIN_JFIF_BYTES = 16  # a longer APP0 holds a thumbnail

HOLDERS = {b"moov", b"trak", b"mdia", b"minf", b"stbl", b"dinf", b"edts"}
LEAVES = {
    b"mvhd", b"tkhd", b"mdhd", b"hdlr", b"vmhd", b"smhd", b"dref", b"elst",
    b"stsd", b"stts", b"stss", b"ctts", b"stsc", b"stsz", b"stco", b"co64", b"sgpd", b"sbgp",
}  # fmt: skip


# More than our encoders write, and little enough to be looked through at once.
MOST_SEGMENTS, MOST_BOXES, MOST_INDEX, DEEPEST = 100, 200, 2_000_000, len(HOLDERS)


class UnexpectedOutputError(ValueError):
    """A file that our own encoders would not have written."""


def inspect_jpeg(path: Path) -> tuple[int, int]:
    """Return width and height of a JPEG without any metadata. Raises UnexpectedOutputError."""
    with path.open("rb") as file:
        if file.read(2) != b"\xff\xd8":
            raise UnexpectedOutputError("not a JPEG")
        size = None
        left = MOST_SEGMENTS
        while (marker := _marker(file)) != START_OF_SCAN:
            left -= 1
            if left < 0:
                raise UnexpectedOutputError("more segments than a picture needs")
            body = file.read(max(0, int.from_bytes(file.read(2), "big") - 2))
            if marker == 0xE0 and len(body) + 2 != PLAIN_JFIF_BYTES:
                raise UnexpectedOutputError("more than a plain JFIF header")
            if marker in {0xC0, 0xC2}:
                size = int.from_bytes(body[3:5], "big"), int.from_bytes(body[1:3], "big")
        file.seek(-2, 2)
        if size is None or file.read(2) != b"\xff\xd9":
            raise UnexpectedOutputError("no frame, or no end of image")
        return size


def _marker(file: BinaryIO) -> int:
    marker = file.read(2)
    if len(marker) < 2 or marker[0] != 0xFF or marker[1] not in SEGMENTS | {START_OF_SCAN}:
        raise UnexpectedOutputError(f"segment {marker.hex()}")
    return marker[1]


def inspect_mp4(path: Path) -> None:
    """Check for an MP4 with its index first and no metadata. Raises UnexpectedOutputError."""
    try:
        with path.open("rb") as file:
            end = file.seek(0, 2)
            top = [box for box in _few(file, 0, end) if box.name != b"free"]
            if [box.name for box in top] != [b"ftyp", b"moov", b"mdat"]:
                raise UnexpectedOutputError("not one index followed by one body")
            if top[1].end - top[1].body > MOST_INDEX:
                raise UnexpectedOutputError("an index longer than three minutes need")
            _inspect_index(file, top[1], DEEPEST)
    except BrokenBoxError as error:
        raise UnexpectedOutputError(str(error)) from error


def _few(file: BinaryIO, start: int, end: int) -> list[Box]:
    found = list(islice(boxes(file, start, end), MOST_BOXES + 1))
    if len(found) > MOST_BOXES:
        raise UnexpectedOutputError("more boxes than a film needs")
    return found


def _inspect_index(file: BinaryIO, holder: Box, deepest: int) -> None:
    for box in _few(file, holder.body, holder.end):
        if box.name in HOLDERS and deepest:
            _inspect_index(file, box, deepest - 1)
        elif box.name == b"free":
            file.seek(box.body)
            if any(file.read(box.end - box.body)):
                raise UnexpectedOutputError("free space that is not empty")
        elif box.name not in LEAVES:
            raise UnexpectedOutputError(f"box {box.name!r}")

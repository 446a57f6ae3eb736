"""Walk the boxes of an ISO base media file (MP4, MOV, HEIF): ISO/IEC 14496-12, 4.2."""

from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, NamedTuple

TOP_LEVEL = {
    b"ftyp", b"moov", b"mdat", b"meta", b"free", b"skip",
    b"wide", b"uuid", b"moof", b"mfra", b"styp", b"sidx",
}  # fmt: skip


class Box(NamedTuple):
    name: bytes
    start: int
    body: int
    end: int


class BrokenBoxError(ValueError):
    """A box whose length makes no sense or which reaches past the end of what holds it."""


def boxes(file: BinaryIO, start: int, end: int) -> Iterator[Box]:
    """Yield the boxes between offsets *start* and *end*. Raises BrokenBoxError.

    A box that reaches past *end* is yielded before the error, so the caller sees its name.
    """
    while start < end:
        file.seek(start)
        head = file.read(16)
        if len(head) < 8 or start + 8 > end:
            raise BrokenBoxError(f"{end - start} stray bytes")
        size, body = int.from_bytes(head[:4], "big"), start + 8
        if size == 1 and len(head) == 16:
            size, body = int.from_bytes(head[8:16], "big"), start + 16
        stop = end if size == 0 else start + size
        if stop < body:
            raise BrokenBoxError(f"a box of {size} bytes")
        yield Box(head[4:8], start, body, stop)
        if stop > end:
            raise BrokenBoxError(f"a box reaches {stop - end} bytes past the end")
        start = stop


def is_cut_short(file: BinaryIO, size: int) -> bool:
    """Tell whether a file of *size* bytes ends inside one of its top-level boxes.

    Junk after the last whole box does not count: some phones leave a trailer there.
    """
    seen: list[Box] = []
    try:
        seen.extend(boxes(file, 0, size))
    except BrokenBoxError:
        return bool(seen) and seen[-1].name in TOP_LEVEL and seen[-1].end > size
    return False


def blank_user_data(path: Path) -> None:
    """Overwrite the user data in the index of an MP4 with nothing, so that no offset moves.

    The muxer always writes a list of tags there, even an empty one, signed with a maker's name.
    """
    with path.open("r+b") as file:
        end = file.seek(0, 2)
        index = next(box for box in boxes(file, 0, end) if box.name == b"moov")
        for box in list(boxes(file, index.body, index.end)):
            if box.name == b"udta":
                file.seek(box.body - 4)
                file.write(b"free" + bytes(box.end - box.body))

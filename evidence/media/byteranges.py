"""Read a Range request for a file of known length: RFC 9110, section 14."""

import re
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

MOST_RANGES = 4
BEYOND = 10**30
_UNIT = re.compile(r"bytes=(.*)", re.IGNORECASE)
_ONE = re.compile(r"(\d*)-(\d*)", re.ASCII)


class Answer(StrEnum):
    """What to send: 200 with everything, 206 with one part or several, or 416."""

    WHOLE = "whole"
    ONE = "one"
    SEVERAL = "several"
    UNSATISFIABLE = "unsatisfiable"


@dataclass(frozen=True, slots=True)
class ByteRange:
    """Bytes *first* to *last* of a file, both included."""

    first: int
    last: int

    def __len__(self) -> int:
        """Return the number of bytes."""
        return self.last - self.first + 1

    def content_range(self, size: int) -> str:
        """Return the Content-Range value for a file of *size* bytes.

        >>> ByteRange(0, 499).content_range(10_000)
        'bytes 0-499/10000'
        """
        return f"bytes {self.first}-{self.last}/{size}"


@dataclass(frozen=True, slots=True)
class Selection:
    """The answer to a request, with the ranges to send in the order asked for."""

    answer: Answer
    ranges: tuple[ByteRange, ...] = ()


WHOLE = Selection(Answer.WHOLE)
UNSATISFIABLE = Selection(Answer.UNSATISFIABLE)


def unsatisfied_content_range(size: int) -> str:
    """Return the Content-Range value that goes with 416."""
    return f"bytes */{size}"


def select(
    header: str | None,
    size: int,
    *,
    method: str = "GET",
    if_range: str | None = None,
    etag: str = "",
    last_modified: str = "",
) -> Selection:
    """Choose what to send of a file of *size* bytes for the Range *header*.

    etag: the file's own tag with its quotes; last_modified: its Last-Modified value, "" when that
    is too new to be a strong validator. Both are compared with *if_range* letter by letter.

    Where the RFC leaves a choice: a header that is no valid range is ignored; up to 4 ranges that
    do not overlap are sent as multipart/byteranges; more, or overlapping ones, get the whole file,
    so a short request cannot ask for a long answer over and over. A range of an empty file is 416.

    >>> select("bytes=-500", 10_000).ranges
    (ByteRange(first=9500, last=9999),)
    """
    if header is None or method != "GET" or not _still_the_same(if_range, etag, last_modified):
        return WHOLE
    asked = _parse(header)
    if asked is None:
        return WHOLE
    ranges = [found for one in asked if (found := _within(one, size)) is not None]
    if not ranges:
        return UNSATISFIABLE
    if len(ranges) == 1:
        return Selection(Answer.ONE, tuple(ranges))
    if len(ranges) > MOST_RANGES or _overlap(ranges):
        return WHOLE
    return Selection(Answer.SEVERAL, tuple(ranges))


def _still_the_same(if_range: str | None, etag: str, last_modified: str) -> bool:
    """Compare as RFC 9110, 13.1.5: a weak tag never matches, a date only exactly."""
    if if_range is None:
        return True
    if if_range.startswith("W/") or etag.startswith("W/"):
        return False
    return if_range in {etag, last_modified} - {""}


def _parse(header: str) -> list[tuple[int | None, int | None]] | None:
    """Read the (first, last) pairs of a bytes range, None when it is no valid one."""
    unit = _UNIT.fullmatch(header.strip())
    if unit is None:
        return None
    asked: list[tuple[int | None, int | None]] = []
    for text in unit[1].split(","):
        spec = text.strip(" \t")
        if not spec:  # empty list elements are to be passed over (RFC 9110, 5.6.1.2)
            continue
        pair = _ONE.fullmatch(spec)
        if pair is None or spec == "-":
            return None
        first, last = (_number(digits) for digits in pair.groups())
        if first is not None and last is not None and last < first:
            return None
        asked.append((first, last))
    return asked or None


def _number(digits: str) -> int | None:
    if not digits:
        return None
    # Python will not read thousands of digits; past thirty every number is beyond any file.
    return int(digits) if len(digits) <= 30 else BEYOND


def _within(asked: tuple[int | None, int | None], size: int) -> ByteRange | None:
    first, last = asked
    if first is None:
        suffix = min(last or 0, size)
        return ByteRange(size - suffix, size - 1) if suffix else None
    if first >= size:
        return None
    return ByteRange(first, size - 1 if last is None else min(last, size - 1))


def _overlap(ranges: list[ByteRange]) -> bool:
    ordered = sorted(ranges, key=lambda one: one.first)
    return any(after.first <= before.last for before, after in pairwise(ordered))

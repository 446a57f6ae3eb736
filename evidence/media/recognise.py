"""Tell what a file is by its first bytes, never by its name or what the sender calls it."""

import os
from pathlib import Path
from typing import BinaryIO

from evidence.media.limits import LIMITS, Limits
from evidence.media.outcome import Kind, Recognised, RefusalReason, Refused, SourceFormat

HEAD_BYTES = 4096

KNOWN = {
    SourceFormat.JPEG: (Kind.PHOTO, "image/jpeg"),
    SourceFormat.PNG: (Kind.PHOTO, "image/png"),
    SourceFormat.WEBP: (Kind.PHOTO, "image/webp"),
    SourceFormat.HEIF: (Kind.PHOTO, "image/heif"),
    SourceFormat.AVIF: (Kind.PHOTO, "image/avif"),
    SourceFormat.GIF: (Kind.PHOTO, "image/gif"),
    SourceFormat.MP4: (Kind.CLIP, "video/mp4"),
    SourceFormat.MOV: (Kind.CLIP, "video/quicktime"),
    SourceFormat.THREEGP: (Kind.CLIP, "video/3gpp"),
    SourceFormat.WEBM: (Kind.CLIP, "video/webm"),
    SourceFormat.M4A: (Kind.VOICE, "audio/mp4"),
    SourceFormat.MP3: (Kind.VOICE, "audio/mpeg"),
    SourceFormat.OGG: (Kind.VOICE, "audio/ogg"),
    SourceFormat.WAV: (Kind.VOICE, "audio/wav"),
    SourceFormat.PDF: (Kind.PAGE, "application/pdf"),
}

PREFIXES = (
    (b"\xff\xd8\xff", SourceFormat.JPEG),
    (b"\x89PNG\r\n\x1a\n", SourceFormat.PNG),
    (b"GIF87a", SourceFormat.GIF),
    (b"GIF89a", SourceFormat.GIF),
    (b"%PDF-", SourceFormat.PDF),
    (b"OggS\x00", SourceFormat.OGG),
    (b"ID3", SourceFormat.MP3),
)

# Major and compatible brands of the ISO base media file format, in order of trust:
# a HEIC may also name mp41, so the narrow names are looked for first.
BRANDS = (
    (SourceFormat.AVIF, {b"avif", b"avis"}),
    (SourceFormat.HEIF, {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}),
    (SourceFormat.M4A, {b"M4A ", b"M4B "}),
    (SourceFormat.MOV, {b"qt  "}),
    (SourceFormat.THREEGP, {b"3gp4", b"3gp5", b"3gp6", b"3gp7", b"3ge6", b"3gr6", b"3g2a"}),
    (
        SourceFormat.MP4,
        {b"isom", b"iso2", b"iso4", b"iso5", b"iso6", b"mp41", b"mp42", b"avc1", b"M4V ", b"MSNV"},
    ),
)


def recognise(
    source: Path | bytes, *, size: int | None = None, limits: Limits = LIMITS
) -> Recognised | Refused:
    """Say what *source*, a path or the first 4096 bytes of a file, is, or why it is refused.

    size: length of the whole file in bytes where only its beginning is at hand.
    Reads no more than 4096 bytes; a file that passes may still prove unreadable.
    """
    if isinstance(source, Path):
        with source.open("rb") as file:
            return recognise_file(file, limits)
    return _judge(source, len(source) if size is None else size, limits)


def recognise_file(file: BinaryIO, limits: Limits) -> Recognised | Refused:
    """Do as `recognise` for an open file, and leave it at its beginning."""
    head = file.read(HEAD_BYTES)
    file.seek(0)
    return _judge(head, os.fstat(file.fileno()).st_size, limits)


def _judge(head: bytes, size: int, limits: Limits) -> Recognised | Refused:
    if size == 0 or not head:
        return Refused(RefusalReason.EMPTY)
    found = _format_of(head)
    if found is None:
        return Refused(RefusalReason.UNKNOWN_KIND, "first bytes match no known kind")
    kind, media_type = KNOWN[found]
    if size > limits.allowance(kind).bytes:
        return Refused(RefusalReason.TOO_BIG, f"{size} bytes of {found}")
    return Recognised(kind, found, media_type)


def _format_of(head: bytes) -> SourceFormat | None:
    for prefix, found in PREFIXES:
        if head.startswith(prefix):
            return found
    if head[:4] == b"RIFF":
        return {b"WEBP": SourceFormat.WEBP, b"WAVE": SourceFormat.WAV}.get(head[8:12])
    if head[:4] == b"\x1aE\xdf\xa3":
        # "matroska" is what some phones call the same container.
        return SourceFormat.WEBM if b"webm" in head[:64] or b"matroska" in head[:64] else None
    if head[4:8] == b"ftyp":
        return _brand_of(head)
    if head[4:8] in {b"moov", b"wide", b"mdat"}:  # QuickTime from before 'ftyp' was written
        return SourceFormat.MOV
    return SourceFormat.MP3 if _is_mp3_frame(head) else None


def _brand_of(head: bytes) -> SourceFormat | None:
    end = min(int.from_bytes(head[:4], "big"), len(head))
    brands = {head[8:12], *(head[at : at + 4] for at in range(16, end - 3, 4))}
    if head[8:12] in {b"mif1", b"msf1"} and brands & {b"avif", b"avis"}:
        return SourceFormat.AVIF
    for names in ({head[8:12]}, brands):
        for found, known in BRANDS:
            if names & known:
                return found
    return None


def _is_mp3_frame(head: bytes) -> bool:
    """Check for an MPEG audio layer III frame header (ISO/IEC 11172-3, 2.4.2.3)."""
    if len(head) < 4 or head[0] != 0xFF or head[1] & 0xE6 != 0xE2:
        return False
    version, bit_rate, sample_rate = head[1] >> 3 & 3, head[2] >> 4, head[2] >> 2 & 3
    return version != 1 and bit_rate not in {0, 15} and sample_rate != 3

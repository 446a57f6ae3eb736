"""What comes out of cleaning a file: the values the rest of the portal sees."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path


class Kind(StrEnum):
    PHOTO = "photo"
    CLIP = "clip"
    VOICE = "voice"
    PAGE = "page"


class SourceFormat(StrEnum):
    JPEG = "jpeg"
    PNG = "png"
    WEBP = "webp"
    HEIF = "heif"
    AVIF = "avif"
    GIF = "gif"
    MP4 = "mp4"
    MOV = "mov"
    THREEGP = "3gp"
    WEBM = "webm"
    M4A = "m4a"
    MP3 = "mp3"
    OGG = "ogg"
    WAV = "wav"
    PDF = "pdf"


class Role(StrEnum):
    DISPLAY = "display"
    THUMB = "thumb"
    CLIP = "clip"
    POSTER = "poster"
    SOUND = "sound"
    PAGE = "page"


class RefusalReason(StrEnum):
    EMPTY = "empty"
    UNKNOWN_KIND = "unknown_kind"
    UNREADABLE = "unreadable"
    CUT_SHORT = "cut_short"
    LOCKED = "locked"
    TOO_BIG = "too_big"
    TOO_MANY_PIXELS = "too_many_pixels"
    TOO_NARROW = "too_narrow"
    TOO_LONG = "too_long"
    TOO_MANY_PAGES = "too_many_pages"
    TOOK_TOO_LONG = "took_too_long"
    TOO_MUCH_MEMORY = "too_much_memory"


@dataclass(frozen=True, slots=True)
class Refused:
    """A file the portal will not keep; *detail*, for staff and logs, names no person or file."""

    reason: RefusalReason
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Recognised:
    """What a file's first bytes say it is.

    MP4, MOV, 3GP and WebM count as clips until opened: one without a picture is a voice note.
    """

    kind: Kind
    format: SourceFormat
    media_type: str


@dataclass(frozen=True, slots=True)
class Output:
    """One clean file. *bytes* is its length; a sound has no width or height (0)."""

    role: Role
    path: Path
    media_type: str
    bytes: int
    sha256: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Cleaned:
    """Everything kept of one file. *sha256* is of the source, so equal files can be told.

    *width* and *height* are of the upright display picture, clip or first page; 0 for a sound.
    *seconds* is 0 for a picture.
    """

    kind: Kind
    outputs: tuple[Output, ...]
    width: int
    height: int
    seconds: float
    source_format: SourceFormat
    sha256: str

    def output(self, role: Role) -> Output:
        """Return the first output with *role*. Raises KeyError when there is none."""
        for output in self.outputs:
            if output.role == role:
                return output
        raise KeyError(role)


class TryLaterError(RuntimeError):
    """Cleaning could not be done now, by our own trouble: it says nothing of the file.

    The disk is full, a library is missing, the portal is being stopped. It costs no attempt.
    """


class CrashedError(RuntimeError):
    """The decoder looked at the file and ended without a verdict, or with one that is no sense.

    It broke, hung, was killed (as by a machine whose memory has run out), or left what our own
    code does not write. Once says little; a caller counts, and refuses the file for *reason* when
    it has happened a few times in a row.
    """

    def __init__(self, reason: RefusalReason, detail: str) -> None:
        super().__init__(reason, detail)
        self.reason = reason
        self.detail = detail

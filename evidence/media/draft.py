"""What the child process hands back: plain values that travel as JSON."""

from dataclasses import dataclass

from evidence.media.outcome import Kind, RefusalReason, Role

TRY_LATER = 75  # exit code of a child stopped by its machine, not by its file

# The only kinds of file a child may leave.
MEDIA_TYPES = {"jpg": "image/jpeg", "mp4": "video/mp4", "m4a": "audio/mp4"}
ROLES = {
    "display.jpg": Role.DISPLAY,
    "thumb.jpg": Role.THUMB,
    "clip.mp4": Role.CLIP,
    "poster.jpg": Role.POSTER,
    "sound.m4a": Role.SOUND,
}


def names_of(kind: Kind, pages: int = 1) -> tuple[str, ...]:
    """Return the names of the files that are made of a *kind*, of as many *pages*."""
    return {
        Kind.PHOTO: ("display.jpg", "thumb.jpg"),
        Kind.CLIP: ("clip.mp4", "poster.jpg", "thumb.jpg"),
        Kind.VOICE: ("sound.m4a",),
        Kind.PAGE: (*(f"page-{number:02}.jpg" for number in range(1, pages + 1)), "thumb.jpg"),
    }[kind]


def names_for(kind: Kind, pages: int) -> tuple[str, ...]:
    """Return the names that the decoder of *kind* may need; a clip may prove to be sound alone."""
    also = names_of(Kind.VOICE) if kind is Kind.CLIP else ()
    return names_of(kind, pages) + also


class RefusalError(Exception):
    """Raised in the child to refuse the file."""

    def __init__(self, reason: RefusalReason, detail: str = "") -> None:
        super().__init__(reason, detail)
        self.reason = reason
        self.detail = detail


@dataclass(frozen=True, slots=True)
class DraftFile:
    """One file the child wrote; the same role has the same name each time."""

    role: Role
    name: str
    width: int = 0
    height: int = 0


@dataclass(frozen=True, slots=True)
class Draft:
    """All the child made of one source."""

    kind: Kind
    files: tuple[DraftFile, ...]
    width: int = 0
    height: int = 0
    seconds: float = 0.0

"""What the child process hands back: plain values that travel as JSON."""

from dataclasses import dataclass

from evidence.media.outcome import Kind, RefusalReason, Role

ANSWER = "answer.json"
TRY_LATER = 75  # exit code of a child stopped by its machine, not by its file

# The only kinds of file a child may leave.
MEDIA_TYPES = {"jpg": "image/jpeg", "mp4": "video/mp4", "m4a": "audio/mp4"}


class RefusalError(Exception):
    """Raised in the child to refuse the file."""

    def __init__(self, reason: RefusalReason, detail: str = "") -> None:
        super().__init__(reason, detail)
        self.reason = reason
        self.detail = detail


@dataclass(frozen=True, slots=True)
class Piece:
    """One file the child wrote; the same role has the same name each time."""

    role: Role
    name: str
    width: int = 0
    height: int = 0


@dataclass(frozen=True, slots=True)
class Draft:
    """All the child made of one source."""

    kind: Kind
    pieces: tuple[Piece, ...]
    width: int = 0
    height: int = 0
    seconds: float = 0.0

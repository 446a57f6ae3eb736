"""Which pictures of a submission can be drawn on, and those that were."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from assessment.looks.drawing.strokes import Stroke, strokes_of
from evidence.models import Piece, Rendition, Submission

ACROSS = 1000  # in thousandths of the picture's width


@dataclass(frozen=True)
class Picture:
    """One photo, or one page of a PDF, with the strokes that stand over it."""

    piece: Piece
    shown: Rendition
    strokes: tuple[Stroke, ...] = ()

    @property
    def name(self) -> str:
        """Name the picture as it is turned: once it is turned anew, strokes fit no more."""
        return picture_name(self.piece, self.shown)

    @property
    def box(self) -> str:
        """Return the view box of what is drawn over it (SVG 2, 8.6)."""
        high = round(ACROSS * (self.shown.height or 1) / (self.shown.width or 1))
        return f"0 0 {ACROSS} {high}"


def picture_name(piece: Piece, shown: Rendition) -> str:
    """Return the name under which the strokes over *shown* are kept."""
    return f"{piece.pk}/{shown.page}/{piece.turned}"


def to_draw_on(submission: Submission) -> list[Picture]:
    """List the pictures of *submission* that can be drawn on."""
    return [Picture(piece, shown) for piece, shown in _pictures(submission)]


def drawn_on(submission: Submission, strokes: Mapping[str, Any]) -> list[Picture]:
    """List the pictures of *submission* that *strokes* are over; no query where there are none."""
    if not strokes:
        return []
    return [
        Picture(piece, shown, tuple(strokes_of(strokes[picture_name(piece, shown)])))
        for piece, shown in _pictures(submission)
        if picture_name(piece, shown) in strokes
    ]


def _pictures(submission: Submission) -> Iterator[tuple[Piece, Rendition]]:
    for piece in submission.pieces.all():
        if piece.state == Piece.State.READY and piece.withdrawn_at is None:
            for shown in piece.pages:
                yield piece, shown

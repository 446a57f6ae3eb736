"""How work on a piece ends: with clean copies, with a refusal, or given back for later."""

from collections.abc import Sequence

from django.db import transaction

from evidence.media import Cleaned, Output, RefusalReason, Role
from evidence.models import Piece, Rendition
from evidence.storage import store
from evidence.storage.orphans import drop_unnamed


def finish(piece: Piece, cleaned: Cleaned) -> bool:
    """Show the clean copies of *piece*, and drop the original: all of it, or nothing.

    False when the claim was lost or the piece was withdrawn meanwhile: then nothing is kept.
    Raises OSError and DatabaseError, with the original still there for another attempt.
    """
    names: list[str] = []
    try:
        if cleaned.sha256 != piece.sha256:
            raise store.DamagedError(f"the original of piece {piece.pk} has changed")
        names += [store.adopt(output.path, output.sha256) for output in cleaned.outputs]
        with transaction.atomic():
            done = Piece.objects.held(piece).update(
                state=Piece.State.READY,
                kind=cleaned.kind,
                turned=piece.turn,
                leased_until=None,
                crashes=0,
                original="",
            )
            if done:
                Rendition.objects.bulk_create(rows(piece, cleaned, names))
    finally:
        drop_unnamed([*names, piece.original])
    return bool(done)


def rows(piece: Piece, cleaned: Cleaned, names: Sequence[str]) -> list[Rendition]:
    """Return the unsaved rows of the clean copies, in the store under *names*."""
    made, pages = [], 0
    for output, name in zip(cleaned.outputs, names, strict=True):
        pages += output.role == Role.PAGE
        made.append(row(piece, cleaned, output, name, pages if output.role == Role.PAGE else 1))
    return made


def row(piece: Piece, cleaned: Cleaned, output: Output, name: str, page: int) -> Rendition:
    """Return the unsaved row of one clean copy; the pages of a PDF are each a display copy."""
    lasts = output.role in (Role.CLIP, Role.SOUND)
    return Rendition(
        piece=piece,
        role=Rendition.Role.DISPLAY if output.role == Role.PAGE else output.role,
        page=page,
        name=name,
        media_type=output.media_type,
        size=output.bytes,
        sha256=output.sha256,
        width=output.width or None,
        height=output.height or None,
        seconds=cleaned.seconds if lasts else None,
    )


def refuse(piece: Piece, reason: RefusalReason) -> bool:
    """Tell the family that *piece* cannot be used. False when the claim was lost in the meantime.

    The original stays for a week (see `jobs.sweep`): an operator may find the fault to be ours.
    """
    refused = Piece.objects.held(piece).update(
        state=Piece.State.REFUSED, refusal=reason.value, leased_until=None
    )
    return bool(refused)

"""Turning what is ready: new clean copies are made of the clean copies, and take their place."""

import logging
from collections.abc import Iterator
from pathlib import Path

from django.db import transaction

from evidence.media import Cleaned, Output, Refused, Role, rotate
from evidence.models import Piece, Rendition
from evidence.processing.finishing import row
from evidence.storage import store
from evidence.storage.integrity import note
from evidence.storage.orphans import drop_unnamed

log = logging.getLogger(__name__)
SHOWN = (Rendition.Role.DISPLAY, Rendition.Role.CLIP)  # the others are made along with these
Made = list[tuple[Cleaned, Output, int]]  # what it was made with, the file, its page


def turn_copies(piece: Piece, place: Path) -> None:
    """Turn all that is shown of *piece*, working in the empty folder *place*.

    Raises OSError and TryLaterError, with the piece shown as before.
    """
    made: Made = []
    for rendition in piece.renditions.filter(role__in=SHOWN):
        outcome = turned(rendition, place, (piece.turn - piece.turned) % 360)
        if outcome is None:
            note(rendition, well=False)
            return
        if isinstance(outcome, Refused):
            log.error("piece %d cannot be turned: %s", piece.pk, outcome.detail)
            leave(piece)
            return
        made += taken(rendition, outcome)
    put_in_place(piece, made)


def turned(rendition: Rendition, place: Path, clockwise: int) -> Cleaned | Refused | None:
    """Make turned copies of *rendition* in *place*; None when it is gone or not what it was."""
    source = place / f"source-{rendition.page}"
    try:
        store.fetch(rendition.name, source)
    except FileNotFoundError:
        return None
    outcome = rotate(source, place / f"page-{rendition.page}", clockwise)
    if isinstance(outcome, Cleaned) and outcome.sha256 != rendition.sha256:
        return None
    return outcome


def taken(rendition: Rendition, made: Cleaned) -> Iterator[tuple[Cleaned, Output, int]]:
    """Yield what is kept of *made*: of the pages of a PDF, the first alone has a thumbnail."""
    for output in made.outputs:
        if output.role != Role.THUMB or rendition.page == 1:
            yield made, output, rendition.page


def put_in_place(piece: Piece, made: Made) -> bool:
    """Show the new copies in place of the old ones, and delete those: all of it, or nothing.

    False when the claim was lost or the piece was taken back meanwhile: then nothing is kept.
    """
    new: list[str] = []
    old = list(piece.renditions.values_list("name", flat=True))
    try:
        new += [store.adopt(output.path, output.sha256) for _made, output, _page in made]
        with transaction.atomic():
            done = Piece.objects.held(piece).update(turned=piece.turn, leased_until=None, crashes=0)
            if done:
                piece.renditions.all().delete()
                Rendition.objects.bulk_create(
                    row(piece, cleaned, output, name, page)
                    for (cleaned, output, page), name in zip(made, new, strict=True)
                )
    finally:
        drop_unnamed([*new, *old])
    return bool(done)


def leave(piece: Piece) -> None:
    """Leave *piece* as it is shown, and forget that it was to be turned."""
    Piece.objects.held(piece).update(turn=piece.turned, leased_until=None, crashes=0)

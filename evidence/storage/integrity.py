"""Whether every clean copy is still, byte for byte, what was made; what is not, is not shown."""

import datetime as dt
import logging
import time
from collections.abc import Iterable

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from evidence.models import DAMAGED, Piece, Rendition
from evidence.storage import store
from evidence.storage.reading import StoreAwayError
from portal.operations.models import Mark

log = logging.getLogger(__name__)
SLICE = 20.0  # seconds; then others have the disk and the worker
ONE_NIGHT = dt.timedelta(hours=20)
AT_ONCE = 200  # renditions looked up together


def due() -> QuerySet[Rendition]:
    """Renditions that were not compared tonight, those that waited longest first."""
    return Rendition.objects.filter(checked_at__lt=timezone.now() - ONE_NIGHT).order_by(
        "checked_at", "pk"
    )


def check_a_slice(seconds: float = SLICE) -> int:
    """Compare what is due for so many seconds; give how many files that were.

    When nothing is left and all is well, that is noted. Raises StoreAwayError.
    """
    deadline = time.monotonic() + seconds
    checked = 0
    while time.monotonic() < deadline and (some := list(due()[:AT_ONCE])):
        checked += check_all(some, deadline)
    if not due().exists() and not damaged().exists():
        Mark.make(Mark.Name.SCRUB)
    return checked


def damaged() -> QuerySet[Rendition]:
    """Renditions that were found damaged or gone, and not been mended since."""
    return Rendition.objects.filter(damaged_at__isnull=False).order_by("checked_at", "pk")


def look_again(seconds: float = SLICE) -> int:
    """Compare what was damaged once more: mended, it is shown again. Give how many are left."""
    check_all(damaged()[:AT_ONCE], time.monotonic() + seconds)
    return damaged().count()


def check_all(renditions: Iterable[Rendition], deadline: float) -> int:
    """Compare *renditions* until *deadline*, and give how many that were. Raises StoreAwayError."""
    count = 0
    for rendition in renditions:
        if time.monotonic() >= deadline:
            break
        note(rendition, is_well(rendition))
        count += 1
    return count


def is_well(rendition: Rendition) -> bool:
    """Whether the bytes are those that were made. Raises StoreAwayError when nobody can tell."""
    try:
        return store.sha256_of(rendition.name) == rendition.sha256
    except StoreAwayError:
        raise
    except OSError:  # Gone, or on a part of the disk that cannot be read.
        return False


def note(rendition: Rendition, well: bool) -> None:
    """Write down what was found, and show the piece or stop showing it.

    A rendition that was replaced or taken back meanwhile has no row any more, and is no news.
    """
    same = Rendition.objects.filter(pk=rendition.pk, name=rendition.name)
    now = timezone.now()
    with transaction.atomic():
        if well:
            same.update(checked_at=now, damaged_at=None)
            if rendition.damaged_at:
                show_again(rendition)
        elif same.update(checked_at=now, damaged_at=rendition.damaged_at or now):
            hide(rendition)


def hide(rendition: Rendition) -> None:
    """Show in words, in place of the piece of a damaged rendition, that it cannot be shown."""
    log.error("rendition %d of piece %d is damaged", rendition.pk, rendition.piece_id)
    Piece.objects.filter(pk=rendition.piece_id, state=Piece.State.READY).update(
        state=Piece.State.REFUSED, refusal=DAMAGED, leased_until=None
    )


def show_again(rendition: Rendition) -> None:
    """Show the piece of a rendition that was mended, unless another one of it is damaged."""
    log.warning("rendition %d of piece %d is mended", rendition.pk, rendition.piece_id)
    if not damaged().filter(piece=rendition.piece_id).exists():
        Piece.objects.filter(pk=rendition.piece_id, refusal=DAMAGED).update(
            state=Piece.State.READY, refusal=""
        )

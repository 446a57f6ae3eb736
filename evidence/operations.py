"""What evidence tells operations: which files belong to it, and how its work stands."""

import datetime as dt
from collections.abc import Iterator

from django.db.models import Count, Min
from django.utils import timezone

from evidence.media import raisable
from evidence.models import Piece, Rendition
from evidence.storage import integrity
from evidence.storage.reading import StoreAwayError
from portal.operations.hooks import Figure, Lack, Restored, StoredFile

UNCHECKED = 8 * 24 * 60 * 60.0  # seconds; a store too large for one night has a week of them
WALLS = {
    "namespaces": "life apart from other processes",
    "user": "a user without root's rights",
    "folder": "a folder that is all there is",
    "files": "no opening of other files",
    "calls": "a list of what may be asked of the kernel",
}
STUCK = 600.0  # seconds; no piece waits longer, whatever happened to a worker or the broker


def stored_files(using: str) -> Iterator[StoredFile]:
    """Yield each original that is still kept, and each rendition, of database *using*."""
    originals = Piece.objects.using(using).exclude(original="")
    renditions = Rendition.objects.using(using)
    for rows in (
        originals.values_list("original", "sha256", "size"),
        renditions.values_list("name", "sha256", "size"),
    ):
        for name, sha256, size in rows.iterator():
            yield StoredFile(name, sha256, size)


def lacks() -> Iterator[Lack]:
    """Yield which walls round the decoders of strangers' files cannot be raised here, and why."""
    missing = (walls := raisable()).missing
    words = "; ".join(f"{WALLS.get(name, name)} ({reason})" for name, reason in missing.items())
    if not walls.are_enough:
        yield Lack(
            "Files from families would be opened with too little round the decoder. Use Linux on "
            f"x86-64 or 64-bit ARM. Missing: {words}.",
            is_grave=True,
        )
    elif missing:
        yield Lack(f"Decoders of families' files have fewer walls than could be. Missing: {words}.")


def whose_files(names: list[str]) -> Iterator[tuple[str, int, dt.date]]:
    """Yield for those of *names* that a row speaks of the key of the child, and the work's day."""
    whose = ("submission__child_id", "submission__day_plan__date")
    yield from Piece.objects.filter(original__in=names).values_list("original", *whose)
    of_piece = (f"piece__{each}" for each in whose)
    yield from Rendition.objects.filter(name__in=names).values_list("name", *of_piece)


def figures() -> Iterator[Figure]:
    """Yield how far the work on pieces has got, and how the stored files are."""
    yield from work_figures()
    yield from file_figures()


def file_figures() -> Iterator[Figure]:
    """Yield how many files are damaged, and how long one of them has not been compared."""
    yield Figure(
        "damaged_files",
        "Stored files that are damaged or gone.",
        integrity.damaged().count(),
        limit=0,
        advice="Bring them back from a backup: manage.py scrub --mend BACKUP.",
    )
    first = Rendition.objects.aggregate(first=Min("checked_at"))["first"]
    yield Figure(
        "longest_unchecked_file_seconds",
        "How long ago the stored file that waits longest was compared.",
        (timezone.now() - first).total_seconds() if first else 0.0,
        limit=UNCHECKED,
        advice="See that worker and beat run at night: they compare from 1 to 5 o'clock UTC.",
    )


def after_restore(_restored: Restored) -> Iterator[str]:
    """Compare at once what was damaged when the backup was taken, or before it was brought back."""
    try:
        left = integrity.look_again(seconds=float("inf"))
    except StoreAwayError as error:
        yield f"The store cannot be read, so damaged files are looked at later: {error}."
    else:
        yield f"{left} stored files are damaged." if left else "No stored file is known as damaged."


def work_figures() -> Iterator[Figure]:
    """Yield how many pieces are in which state, and how long the oldest unfinished one waits."""
    standing = Piece.objects.active()
    counted = dict(standing.order_by().values_list("state").annotate(Count("pk")))
    for state in Piece.State.values:
        labels = (("state", state),)
        yield Figure("pieces", "Pieces, by state.", counted.get(state, 0), labels)
    arrived = standing.filter(state=Piece.State.ARRIVED).aggregate(first=Min("arrived_at"))
    waits = (timezone.now() - arrived["first"]).total_seconds() if arrived["first"] else 0.0
    yield Figure(
        "oldest_unfinished_piece_seconds",
        "How long the oldest unfinished piece waits.",
        max(0.0, waits),
        limit=STUCK,
        advice="See that worker and beat run; the worker's log names the piece.",
    )

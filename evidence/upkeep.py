"""What evidence tells upkeep: which files belong to it, and how its work stands."""

from collections.abc import Iterator

from django.db.models import Count, Min
from django.utils import timezone

from evidence.models import Piece, Rendition
from portal.upkeep.hooks import Figure, StoredFile

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


def figures() -> Iterator[Figure]:
    """Yield how many pieces are in which state, and how long the oldest unfinished one waits."""
    standing = Piece.objects.standing()
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

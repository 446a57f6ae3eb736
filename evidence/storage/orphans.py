"""Files that no row speaks of: found, and removed only when that is certain."""

import logging

from django.db import DatabaseError

from evidence.models import Piece, Rendition
from evidence.storage import store
from portal.operations.hooks import named_files

log = logging.getLogger(__name__)
DAY = 24 * 60 * 60.0  # seconds; a file is on the disk before its row is, but never a day before
SHARDS = 256


def unnamed(names: list[str]) -> list[str]:
    """Return those of *names* that no row of the database speaks of. Raises DatabaseError."""
    known = {
        *Piece.objects.filter(original__in=names).values_list("original", flat=True),
        *Rendition.objects.filter(name__in=names).values_list("name", flat=True),
        *named_files(names),
    }
    return [name for name in names if name not in known]


def drop_unnamed(names: list[str]) -> None:
    """Remove those of *names* whose rows were not saved after all.

    A commit that was answered by an error may still have happened, so the rows are asked. When
    the database or the store does not answer, the files stay, and the sweep finds them a day later.
    """
    try:
        store.remove(unnamed(names))
    except (DatabaseError, OSError):
        log.warning("%d files are left to the sweep", len(names))


def clear_shard(shard: int) -> int:
    """Remove what is a day old and belongs to nothing in one of the 256 shards; give how many."""
    gone = 0
    for area in (store.ORIGINALS, store.RENDITIONS):
        left = unnamed(store.names_in(area, shard, DAY))
        store.remove(left)
        gone += len(left)
    return gone

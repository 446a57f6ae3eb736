"""Keeps a worker's claim on a piece alive while the decoder is at it."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event, Thread

from django.db import DatabaseError, connection
from django.utils import timezone

from evidence.models import LEASE, Piece

log = logging.getLogger(__name__)
RENEW_EVERY = LEASE.total_seconds() / 3


@contextmanager
def renewed(piece: Piece, every: float = RENEW_EVERY) -> Iterator[None]:
    """Push the end of the lease on *piece* away, every so many seconds, until the block ends."""
    done = Event()
    thread = Thread(target=renew_until, args=(done, piece, every), daemon=True)
    thread.start()
    try:
        yield
    finally:
        done.set()
        thread.join()


def renew_until(done: Event, piece: Piece, every: float) -> None:
    """Renew until *done* or until the claim is lost; a database that is away is asked again."""
    try:
        while not done.wait(every):
            try:
                if not Piece.objects.held(piece).update(leased_until=timezone.now() + LEASE):
                    return
            except DatabaseError:
                log.warning("the lease on piece %d could not be renewed", piece.pk)
    finally:
        connection.close()

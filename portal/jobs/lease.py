"""Rows that one worker at a time works on.

A row is claimed by one UPDATE, and given back by whoever claimed it. Our own trouble (a worker
that dies, a full disk, a store or a line that is away) costs a row nothing, however often it
comes. Only a crash of the decoder counts, and MOST_CRASHES of them in a row end the trying.
"""

import datetime as dt
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event, Thread
from typing import Self, TypeVar

from django.db import DatabaseError, connection, models
from django.db.models import F, Q
from django.utils import timezone

log = logging.getLogger("portal.jobs")

# A worker renews its lease while it works; one that died gives its row up this much later.
LEASE = dt.timedelta(seconds=45)
RENEW_EVERY = LEASE.total_seconds() / 3
TRY_AGAIN_IN = dt.timedelta(minutes=1)  # after trouble of our own
SOON = dt.timedelta(seconds=10)  # after a crash
MOST_CRASHES = 3
# So many claims that ended without a word look like a row that kills its workers: it is not given
# up, but it comes round more seldom, and after all others.
ODD_AFTER, SELDOM = 5, dt.timedelta(minutes=30)

Row = TypeVar("Row", bound="Leased")


class LeasedQuerySet(models.QuerySet[Row]):
    """Rows by who is at work on them. What is left to do on them is the model's own to say."""

    lease = LEASE  # how long a claim stands that nobody renews
    seldom = SELDOM  # how much later one comes round that looks odd

    def unleased(self) -> Self:
        """Return rows that nobody is at work on.

        Asks the row itself alone: of a subquery, PostgreSQL would not look again at what another
        worker has just written (READ COMMITTED), and both would get the row.
        """
        now = timezone.now()
        nobody = Q(leased_until=None) | Q(leased_until__lt=now)
        usual = Q(attempts__lt=ODD_AFTER) | Q(leased_until=None)
        return self.filter(nobody & (usual | Q(leased_until__lt=now - self.seldom)))

    def next_key(self) -> int | None:
        """Return the key of the next row; None when none is waiting.

        Asked in the rows' own order, which the database has an index for; `exists` asks in none.
        """
        return self.values_list("pk", flat=True).first()

    def take(self, pk: int) -> Row | None:
        """Claim row *pk* of these for their `lease` and return it; None: it is not there to take.

        One UPDATE decides, so of two workers exactly one gets it. The number of the attempt is
        the proof of the claim: `held` finds the row only until somebody else takes it.
        """
        row = self.filter(pk=pk).first()
        if row is None or not self.filter(pk=pk, attempts=row.attempts).update(
            leased_until=timezone.now() + self.lease, attempts=F("attempts") + 1
        ):
            return None
        row.attempts += 1
        return row

    def held(self, row: Row) -> Self:
        """Return *row* as long as the claim on it stands."""
        return self.filter(pk=row.pk, attempts=row.attempts, leased_until__isnull=False)

    def give_back(self, row: Row) -> None:
        """Have *row* tried again in a while, as if this attempt had not been."""
        self.held(row).update(leased_until=timezone.now() + TRY_AGAIN_IN, attempts=row.attempts - 1)

    def note_crash(self, row: Row) -> bool:
        """Have *row* tried again soon; True when it has crashed too often for that."""
        if row.crashes + 1 >= MOST_CRASHES:
            return True
        self.held(row).update(
            leased_until=timezone.now() + SOON, attempts=row.attempts - 1, crashes=row.crashes + 1
        )
        return False


class Leased(models.Model):
    """A row that one worker at a time works on. Its queryset is a LeasedQuerySet."""

    leased_until = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    crashes = models.PositiveSmallIntegerField(default=0)

    class Meta:
        abstract = True


@contextmanager
def renewed(row: Leased, every: float = RENEW_EVERY) -> Iterator[None]:
    """Push the end of the lease on *row* away, every so many seconds, until the block ends."""
    done = Event()
    thread = Thread(target=renew_until, args=(done, row, every), daemon=True)
    thread.start()
    try:
        yield
    finally:
        done.set()
        thread.join()


def renew_until(done: Event, row: Leased, every: float) -> None:
    """Renew until *done* or until the claim is lost; a database that is away is asked again."""
    rows = type(row).objects  # type: ignore[attr-defined] # those of its own model
    try:
        while not done.wait(every):
            try:
                if not rows.held(row).update(leased_until=timezone.now() + rows.all().lease):
                    return
            except DatabaseError:
                log.warning("the lease on %s could not be renewed", row)
    finally:
        connection.close()

"""How much more one submission, and its home today, may hold."""

from dataclasses import dataclass
from typing import Self

from django.db.models import Count, QuerySet, Sum
from django.utils import timezone
from django.utils.translation import gettext as _

from evidence.models import Piece, Submission
from evidence.uploads.limits import (
    HOME_BYTES,
    HOME_PIECES,
    HOME_SPAN,
    MAX_BYTES,
    MAX_PIECES,
    megabytes,
)
from portal.people.models import Home


@dataclass
class Room:
    """What is left: pieces and bytes of the submission, and of the home's share of the day."""

    pieces: int
    bytes: int
    home_pieces: int
    home_bytes: int

    @classmethod
    def of(cls, submission: Submission) -> Self:
        """Count what is left for *submission*, inside a transaction that then uses it.

        The home's row is held, so that two forms of one home cannot both take the last place.
        """
        Home.objects.select_for_update().filter(pk=submission.home_id).first()
        here = used(submission.pieces.active())
        since = timezone.now() - HOME_SPAN
        home = used(Piece.objects.filter(submission__home=submission.home_id, arrived_at__gt=since))
        return cls(
            MAX_PIECES - here[0], MAX_BYTES - here[1], HOME_PIECES - home[0], HOME_BYTES - home[1]
        )

    def take(self, size: int) -> str:
        """Take the place of one more piece of *size* bytes; words when there is none, else ""."""
        if self.home_pieces < 1 or self.home_bytes < size:
            return _("That is a lot for one day. Send it tomorrow.")
        if self.pieces < 1:
            return _("%(count)d is the most in one go. Send it on its own.") % {"count": MAX_PIECES}
        if self.bytes < size:
            most = {"most": megabytes(MAX_BYTES)}
            return _("Together they are more than %(most)s. Send it on its own.") % most
        self.pieces, self.bytes = self.pieces - 1, self.bytes - size
        self.home_pieces, self.home_bytes = self.home_pieces - 1, self.home_bytes - size
        return ""


def used(pieces: QuerySet[Piece]) -> tuple[int, int]:
    """Return how many *pieces* there are and how many bytes arrived with them."""
    total = pieces.aggregate(count=Count("pk"), size=Sum("size"))
    return total["count"], total["size"] or 0

"""Who has looked at what a child sent: read from the log, by role and time."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from portal.people.models import Event

SEEN = (Event.What.MEDIA_SEEN, Event.What.MEDIA_TAKEN)
PIECE = "evidence.piece"


@dataclass(frozen=True)
class Looked:
    """One look at one piece: by which role, when, and whether it was only seen or taken.

    `who` is the key of the account; families are not told whose it is.
    """

    piece: int
    role: str
    what: str
    at: dt.datetime
    who: int | None


def events_about(pieces: Sequence[int]) -> QuerySet[Event]:
    """Give what the log has of staff looking at *pieces*, newest first."""
    return Event.objects.filter(kind=PIECE, object_id__in=pieces, what__in=SEEN)


def looks_at(pieces: Sequence[int]) -> list[Looked]:
    """List the looks at *pieces*, given by their keys, newest first."""
    return [
        Looked(
            event.object_id,
            str(event.get_role_display()),
            str(event.get_what_display()),
            event.at,
            event.who,
        )
        for event in events_about(pieces)
    ]

"""Who has looked at what a child sent: read from the log, by role and time."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from evidence.models import Piece
from portal.people.models import Child, Event, User

# In words for families; those of the log itself are for staff, and in English.
ROLES = {
    Event.Role.LEAD: _("Lead"),
    Event.Role.TEACHER: _("Teacher"),
    Event.Role.ASSISTANT: _("Assistant"),
    Event.Role.OFFICE: _("Office"),
}
DONE = {Event.What.MEDIA_SEEN: _("looked at it"), Event.What.MEDIA_TAKEN: _("took a copy of it")}
SEEN = (Event.What.MEDIA_SEEN, Event.What.MEDIA_TAKEN)
PIECE = "evidence.piece"


@dataclass(frozen=True)
class Looked:
    """One look at one piece: by which role, when, and whether it was only seen or taken.

    `who` is the key of the account; families are not told whose it is. `for_family` says role and
    action in the page's language.
    """

    piece: int
    role: str
    what: str
    at: dt.datetime
    who: int | None
    for_family: str


def events_about(pieces: Sequence[int]) -> QuerySet[Event]:
    """Return what the log has of staff looking at *pieces*, newest first."""
    seen = Event.objects.filter(kind=PIECE, object_id__in=pieces, what__in=SEEN)
    return seen.filter(role__in=ROLES)


def whole_copies_of(child: Child) -> list[tuple[str, dt.datetime]]:
    """List by which role of staff and when all that is kept of *child* was copied, newest first."""
    taken = Event.objects.filter(kind="people.child", object_id=child.pk, what=Event.What.EXPORTED)
    by_staff = taken.filter(role__in=ROLES)
    return [(str(ROLES[event.role]), event.at) for event in by_staff]


def looks_at(pieces: Sequence[int]) -> list[Looked]:
    """List the looks at *pieces*, given by their keys, newest first."""
    return [
        Looked(
            event.object_id,
            str(event.get_role_display()),
            str(event.get_what_display()),
            event.at,
            event.who,
            f"{ROLES[event.role]}: {DONE[event.what]}",
        )
        for event in events_about(pieces)
    ]


@dataclass(frozen=True)
class PieceLooked:
    """One piece, and who has looked at it, newest first."""

    piece: Piece
    looks: list[Looked]


def by_piece(pieces: Sequence[Piece]) -> list[PieceLooked]:
    """Return for each of *pieces* who has looked at it, in one query."""
    found: dict[int, list[Looked]] = {}
    for look in looks_at([piece.pk for piece in pieces]):
        found.setdefault(look.piece, []).append(look)
    return [PieceLooked(piece, found.get(piece.pk, [])) for piece in pieces]


def names_of(rows: Sequence[PieceLooked]) -> dict[int, str]:
    """Return the names of the accounts that looked, by key: for a lead, never for families."""
    keys = {look.who for row in rows for look in row.looks if look.who}
    return {user.pk: user.name for user in User.objects.filter(pk__in=keys)}

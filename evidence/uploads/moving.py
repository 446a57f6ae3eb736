"""A piece that was sent for one child and is another's of the same home, or both children's."""

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from django.db import DatabaseError, transaction

from evidence.jobs import queue_on_commit
from evidence.models import Piece, Submission
from evidence.storage import partial_files, store
from evidence.storage.orphans import drop_unnamed
from evidence.submissions import other_children, permissions
from evidence.submissions.permissions import Sender
from evidence.uploads.arrivals import NotSavedError, TooLateError, reopened
from evidence.uploads.room_left import Room
from evidence.uploads.withdrawal import close, drop_pieces
from portal.people.models import Home, User


class NoRoomError(Exception):
    """There is no room for it where it should go; str() says so in words."""


def others_at_home(user: User, submission: Submission) -> list[Sender]:
    """Return the other children of the home of *submission* who have work for the same day."""
    sender = permissions.at_home(user, submission.child, submission.day_plan, "")
    near = permissions.siblings_of(sender) if sender else []
    return [replace(each, form_key="") for each in near if each.home == submission.home]


def move(piece: Piece, to: Sender) -> None:
    """Have *piece* stand in the work of another child of its home, and no more where it is.

    Nothing is sent again. What is there already, byte for byte, is not put there twice. Raises
    TooLateError once either was looked at, and NoRoomError.
    """
    with transaction.atomic():
        left, work = taken_from(piece), work_of(to)
        if is_there(piece, work):
            drop_pieces(left, piece.pk)
        else:
            room_for(piece, work, counted=True)
            position = work.pieces.count()
            Piece.objects.filter(pk=piece.pk).update(
                submission=work, position=position, prompt=None
            )
            piece.uploads.clear()
        if left.is_empty:
            close(left)


def share(piece: Piece, to: Sender) -> None:
    """Have *piece* stand in the work of another child of its home as well.

    Raises TooLateError, NoRoomError, and NotSavedError when the store does not answer.
    """
    with new_files() as names, transaction.atomic():
        taken_from(piece)
        work = work_of(to)
        if is_there(piece, work):
            return
        room_for(piece, work)
        piece.refresh_from_db()
        twin = twin_of(piece, work, names)
        if hasattr(piece, "others_shown"):
            other_children.mark([twin], to.user)
        queue_on_commit([twin.pk])


def taken_from(piece: Piece) -> Submission:
    """Return the submission of *piece*, both held until the transaction ends.

    The home is held as well, so that no two make the same work for another child of it. Raises
    TooLateError.
    """
    Home.objects.select_for_update().filter(pk=piece.submission.home_id).first()
    submission = reopened(piece.submission_id)
    standing = Piece.objects.select_for_update().filter(withdrawn_at=None, submission=submission)
    if not standing.filter(pk=piece.pk).exclude(state=Piece.State.REFUSED).exists():
        raise TooLateError
    return submission


def work_of(to: Sender) -> Submission:
    """Return what is sent of the child and day of *to* and can be changed; else begin it."""
    of_day = {"child": to.child, "home": to.home, "day_plan": to.day_plan}
    found = Submission.objects.select_for_update().open_to_change().filter(**of_day)
    return found.first() or Submission.objects.create(**of_day, sent_by=to.user)


def is_there(piece: Piece, work: Submission) -> bool:
    """Whether the same file is in *work*."""
    return work.pieces.active().filter(sha256=piece.sha256).exists()


def room_for(piece: Piece, work: Submission, *, counted: bool = False) -> None:
    """Raise NoRoomError where *work*, or its home today, takes no more.

    counted: the home's share has *piece* in it already.
    """
    room = Room.of(work)
    room.home_pieces += counted
    room.home_bytes += piece.size * counted
    if words := room.take(piece.size):
        raise NoRoomError(words)


def twin_of(piece: Piece, work: Submission, names: list[str]) -> Piece:
    """Save *piece* a second time, in *work*, with files of its own; their names go into *names*."""
    twin = Piece(submission=work, position=work.pieces.count())
    for name in ("kind", "turn", "turned", "state", "sha256", "size"):
        setattr(twin, name, getattr(piece, name))
    if piece.original:
        twin.original = partial_files.twin(store.path_of(piece.original))
        names.append(twin.original)
    twin.save()
    for rendition in piece.renditions.all():
        names.append(copy_of(rendition.name))
        rendition.pk, rendition.piece, rendition.name = None, twin, names[-1]
        rendition.save(force_insert=True)
    return twin


def copy_of(name: str) -> str:
    """Store the clean file *name* a second time, and give its new name. Raises OSError."""
    incoming = store.Incoming()
    digest = hashlib.sha256()
    try:
        file = store.open_file(name)
        try:
            for block in file.blocks(0, file.size):
                digest.update(block)
                incoming.write(block)
        finally:
            file.close()
        return store.adopt(store.path_of(incoming.keep()), digest.hexdigest())
    finally:
        incoming.discard()


@contextmanager
def new_files() -> Iterator[list[str]]:
    """Lend a list for the names of new files; those that no row then names are deleted.

    Raises NotSavedError in place of the errors of disk and database.
    """
    names: list[str] = []
    try:
        yield names
    except (OSError, DatabaseError) as error:
        raise NotSavedError from error
    finally:
        drop_unnamed(names)

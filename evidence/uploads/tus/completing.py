"""Makes a piece of a finished upload: for the child, and for each sibling."""

from dataclasses import dataclass

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from evidence.jobs import queue_on_commit
from evidence.media import HEAD_BYTES, Kind, recognise
from evidence.models import Piece
from evidence.storage import partial_files
from evidence.storage.orphans import drop_unnamed
from evidence.storage.partial_files import PartialFile
from evidence.submissions import permissions
from evidence.submissions.permissions import Sender
from evidence.uploads import arrivals
from evidence.uploads.arrivals import Kept, TooLateError
from evidence.uploads.tus.ending import refuse
from evidence.uploads.tus.parts import open_submission
from evidence.uploads.tus.protocol import RequestError
from evidence.uploads.tus.upload import Upload
from tasks.models import TaskPrompt

MAY_NOT = gettext_lazy("This cannot be sent from here any more. Ask your school.")


@dataclass
class WholeFile:
    """What `arrivals` asks of a file that has come in whole."""

    kind: Kind
    sha256: str
    size: int
    turn: int
    prompt: TaskPrompt | None = None
    refusal: str = ""


def complete(upload: Upload, file: PartialFile) -> None:
    """Make the pieces of *upload*, whose *file* is whole and on the disk, and close it.

    Afterwards they outlive a power cut. Raises RequestError with the upload refused, and OSError
    or DatabaseError with it as open as before.
    """
    to = receivers(upload)
    kind = recognise(file.head(HEAD_BYTES), size=upload.length).kind
    digest = file.sha256()
    whole = [WholeFile(kind, digest, upload.length, upload.turn, upload.prompt) for _each in to]
    names: list[str] = []
    try:
        for _each in to:
            names.append(partial_files.twin(file.path))
        with transaction.atomic():
            close(upload, pieces_for(to, upload, [*map(Kept, whole, names)]))
    except TooLateError as error:
        refuse(upload, str(error))
        raise RequestError(413, str(error)) from error
    finally:
        drop_unnamed(names)
    partial_files.remove(file.name)


def receivers(upload: Upload) -> list[Sender]:
    """Return for whom *upload* is, having asked again whether its sender may send for them.

    Raises RequestError with the upload refused.
    """
    sender = sender_of(upload)
    if sender is None:
        refuse(upload, str(MAY_NOT))
        raise RequestError(404)
    also = [str(pk) for pk in upload.also.values_list("pk", flat=True)]
    return [sender, *permissions.chosen(permissions.siblings_of(sender), also)]


def sender_of(upload: Upload) -> Sender | None:
    """Return who sends *upload*; None when they may not, or no longer."""
    who = (upload.sender, upload.child)
    if upload.by_staff:
        return permissions.for_family(*who, upload.home, upload.day_plan, upload.form_key)
    sender = permissions.at_home(*who, upload.day_plan, upload.form_key)
    return sender if sender and sender.home == upload.home else None


def pieces_for(to: list[Sender], upload: Upload, kept: list[Kept]) -> list[Piece]:
    """Save a piece for each of *to*. Raises TooLateError when there is no room for the first."""
    found = [piece_for(sender, upload, each) for sender, each in zip(to, kept, strict=True)]
    if found[0] is None:
        raise TooLateError(kept[0].file.refusal)
    return [piece for piece in found if piece]


def piece_for(sender: Sender, upload: Upload, kept: Kept) -> Piece | None:
    """Return the piece that *kept* becomes for *sender*; the one there is, if it came before.

    None when there was no room for it, which `kept.file` then says.
    """
    first = upload.adds_to_id if sender.child.pk == upload.child_id else None
    submission = open_submission(sender, first)
    made = arrivals.save_pieces(submission, [kept])
    queue_on_commit([piece.pk for piece in made])
    there = submission.pieces.active().filter(sha256=kept.file.sha256)
    return None if kept.file.refusal else there.first()


def close(upload: Upload, pieces: list[Piece]) -> None:
    """Close *upload* within the caller's transaction. Raises RequestError to undo all of it."""
    upload.promise(upload.length)
    if not upload.close(Upload.State.DONE):
        raise RequestError(410, _("This was taken back."))
    upload.pieces.set(pieces)

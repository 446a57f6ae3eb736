"""What a family takes back: a piece or the whole submission, until it has been looked at."""

from django.db import transaction
from django.utils import timezone

from evidence.models import Piece, Rendition, Submission
from evidence.storage.orphans import drop_unnamed
from evidence.uploads.arrivals import reopened


def withdraw(submission: Submission) -> None:
    """Take *submission* back, for good and with its files. Raises TooLateError."""
    with transaction.atomic():
        close(reopened(submission.pk))


def remove_piece(piece: Piece) -> bool:
    """Take *piece* back; with the last of an otherwise empty submission, that too.

    True while the submission still stands. Raises TooLateError.
    """
    with transaction.atomic():
        submission = reopened(piece.submission_id)
        drop_pieces(submission, piece.pk)
        if submission.is_empty:
            close(submission)
    return submission.withdrawn_at is None


def close(submission: Submission) -> None:
    """Mark *submission*, held by the caller's transaction, as taken back."""
    drop_pieces(submission, *submission.pieces.values_list("pk", flat=True))
    submission.withdrawn_at = timezone.now()
    submission.form_key = ""
    submission.save(update_fields=["withdrawn_at", "form_key"])


def drop_pieces(submission: Submission, *piece_ids: int) -> None:
    """Take back pieces of *submission*, and delete their files once that is saved.

    The rows of the pieces are written first: a job that is about to finish one of them waits for
    this transaction, and then finds nothing to finish.
    """
    pieces = submission.pieces.filter(pk__in=piece_ids, withdrawn_at=None)
    names = [*pieces.values_list("original", flat=True)]
    pieces.update(withdrawn_at=timezone.now(), original="", leased_until=None)
    renditions = Rendition.objects.filter(piece__in=piece_ids)
    names += renditions.values_list("name", flat=True)
    renditions.delete()
    transaction.on_commit(lambda: drop_unnamed(names), robust=True)

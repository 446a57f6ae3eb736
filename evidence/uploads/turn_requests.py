"""Asking to have a piece turned, because a camera was held the wrong way up."""

from django.db import transaction

from evidence.jobs import queue_on_commit
from evidence.models import Piece
from evidence.uploads.arrivals import reopened


def ask(piece: Piece, turn: int) -> None:
    """Have *piece* shown *turn* degrees clockwise of what came: 0, 90, 180 or 270.

    Asked twice, it is done once. A piece that is not ready stays as it is.
    """
    with transaction.atomic():
        pictures = Piece.objects.filter(pk=piece.pk).ready().exclude(kind=Piece.Kind.VOICE)
        if pictures.exclude(turn=turn).update(turn=turn, attempts=0, crashes=0):
            queue_on_commit([piece.pk])


def ask_for_family(piece: Piece, turn: int) -> None:
    """Do as `ask` does, until the submission has been looked at. Raises TooLateError."""
    with transaction.atomic():
        reopened(piece.submission_id)
        ask(piece, turn)

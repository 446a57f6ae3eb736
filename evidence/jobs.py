"""What is done with pieces behind the pages. The database says what is left; the broker hints."""

import datetime as dt
import logging
import time
from collections.abc import Iterable
from functools import partial

from celery import Task, shared_task
from django.db import transaction
from django.utils import timezone
from kombu.exceptions import OperationalError

from evidence import checking, store, turning
from evidence.finishing import finish, give_back, let_go, refuse
from evidence.lease import renewed
from evidence.media import CrashedError, RefusalReason, Refused, TryLaterError, clean
from evidence.models import Piece
from evidence.orphans import DAY, SHARDS, clear_shard
from evidence.reading import StoreAwayError
from evidence.reminding.sending import send_due
from evidence.resuming.ending import sweep_uploads

log = logging.getLogger(__name__)
PATIENCE = dt.timedelta(seconds=15)  # The message sent on arrival comes first.
AT_ONCE = 100  # pieces that one sweep sends again; the next one comes soon
SWEEP_EVERY = 20  # seconds, as the beat has it
REFUSED_KEPT = dt.timedelta(days=7)


@shared_task
def prepare(piece_id: int) -> None:
    """Make the clean copies of one piece. Sent twice, the second finds nothing to take.

    A worker that dies keeps its claim for LEASE; then the sweep sends the piece again.
    """
    piece = Piece.objects.claim(piece_id)
    if piece is None:
        return
    original = store.path_of(piece.original)
    if not original.is_file():
        log.error("the original of piece %d is gone", piece_id)
        refuse(piece, RefusalReason.UNREADABLE)
        return
    try:
        with renewed(piece), store.workplace(piece.pk, piece.attempts) as place:
            outcome = clean(original, place, turn=piece.turn)
            if isinstance(outcome, Refused):
                log.info("piece %d refused: %s (%s)", piece_id, outcome.reason, outcome.detail)
                refuse(piece, outcome.reason)
            else:
                finish(piece, outcome)
    except store.DamagedError:
        log.exception("piece %d is damaged", piece_id)
    except CrashedError:
        log.exception("the decoder of piece %d crashed", piece_id)
        let_go(piece)
    except (TryLaterError, OSError):
        log.exception("piece %d waits for a better moment", piece_id)
        give_back(piece)


@shared_task
def turn(piece_id: int) -> None:
    """Turn one piece the way that was asked for last. Sent twice, the second finds it done."""
    piece = Piece.objects.claim_to_turn(piece_id)
    if piece is None:
        return
    try:
        with renewed(piece), store.workplace(piece.pk, piece.attempts) as place:
            turning.turn_copies(piece, place)
    except CrashedError:
        log.exception("the decoder that turned piece %d crashed", piece_id)
        let_go(piece)
    except (TryLaterError, OSError):
        log.exception("piece %d is turned at a better moment", piece_id)
        give_back(piece)


@shared_task
def scrub() -> None:
    """Compare some of the stored files with what was made, those first that waited longest.

    The beat sends it again and again through the night, so that no slice takes long.
    """
    try:
        checking.check_a_slice()
    except StoreAwayError:
        log.exception("the stored files cannot be compared now")


@shared_task
def look_again_at_damaged() -> None:
    """Show what was damaged as soon as it is mended."""
    try:
        checking.look_again()
    except StoreAwayError:
        log.exception("the damaged files cannot be compared now")


@shared_task
def sweep() -> None:
    """Send again all that is unfinished, and clear what is left over: from the database alone."""
    for piece in Piece.objects.given_up()[:AT_ONCE]:
        log.error("piece %d is given up after %d attempts", piece.pk, piece.attempts)
        refuse(piece, RefusalReason.UNREADABLE)
    waiting = Piece.objects.unfinished().filter(arrived_at__lt=timezone.now() - PATIENCE)
    queue(waiting.values_list("pk", flat=True)[:AT_ONCE])
    if left := turning.give_up():
        log.error("%d pieces could not be turned and stay as they are", left)
    send(turn, Piece.objects.to_turn().values_list("pk", flat=True)[:AT_ONCE])
    drop_refused_originals()
    sweep_uploads()
    store.clear_abandoned(DAY)
    # One of the 256 folders of the store each time: all of them in about an hour and a half.
    try:
        clear_shard(int(time.time() / SWEEP_EVERY) % SHARDS)
    except OSError:
        log.warning("the store does not answer, so nothing was cleared")


def drop_refused_originals() -> None:
    """Delete the originals of pieces that were refused a week ago."""
    old = Piece.objects.filter(
        state=Piece.State.REFUSED, arrived_at__lt=timezone.now() - REFUSED_KEPT
    ).exclude(original="")[:AT_ONCE]
    for piece in old:
        # The row first: no backup then has a row whose file is gone.
        Piece.objects.filter(pk=piece.pk).update(original="")
        store.remove([piece.original])


def queue_on_commit(piece_ids: list[int]) -> None:
    """Send pieces to be prepared as soon as their rows are saved for good."""
    transaction.on_commit(partial(queue, piece_ids), robust=True)


@shared_task
def send_reminders() -> None:
    """Send the reminders that are due; run twice, each still goes out once."""
    send_due()


def queue_turn_on_commit(piece_id: int) -> None:
    """Send a piece to be turned as soon as it is saved for good that it should be."""
    transaction.on_commit(partial(send, turn, [piece_id]), robust=True)


def queue(piece_ids: Iterable[int]) -> None:
    """Send pieces to be prepared."""
    send(prepare, piece_ids)


def send(job: Task, piece_ids: Iterable[int]) -> None:
    """Send *job* for each piece. A broker that is away is no error: the sweep sends it again."""
    for piece_id in piece_ids:
        try:
            job.apply_async((piece_id,), retry=False)
        except (OperationalError, OSError):
            log.warning("piece %d waits for the sweep: the broker does not answer", piece_id)
            return

"""What is done with pieces behind the pages. The database says what is left; the broker hints."""

import datetime as dt
import logging
import time
from collections.abc import Iterable
from functools import partial

from celery import shared_task
from django.db import transaction
from django.utils import timezone

from evidence.media import CrashedError, RefusalReason, Refused, clean
from evidence.models import Piece
from evidence.processing import turning
from evidence.processing.finishing import finish, refuse
from evidence.reminders.sending import send_due
from evidence.storage import integrity, store
from evidence.storage.orphans import DAY, SHARDS, clear_shard
from evidence.storage.reading import StoreAwayError
from evidence.uploads.tus.ending import sweep_uploads
from portal.jobs.lease import renewed
from portal.jobs.sending import send
from portal.jobs.slots import Weight, alone, work_off
from portal.operations import clock

log = logging.getLogger(__name__)
AT_ONCE = 100  # refused originals that one sweep drops; the next one comes soon
SWEEP_EVERY = 20  # seconds, as the beat has it
REFUSED_KEPT = dt.timedelta(days=7)
HEAVY = (Weight.PHOTOS, Weight.CLIPS)


@shared_task
def work_on_pieces(weight: str) -> None:
    """Prepare and turn the pieces of *weight* that wait, if a slot is free for that."""
    work_off(Weight(weight), partial(work_on_next, Weight(weight)))


def work_on_next(weight: Weight) -> bool:
    """Prepare or turn the next piece of *weight*; False when none is waiting."""
    for waiting, job in ((Piece.objects.unfinished(), prepare), (Piece.objects.to_turn(), turn)):
        if piece_id := waiting.weighing(weight).next_key():
            job.run(piece_id)  # as part of this job, whose id its lines in the log carry
            return True
    return False


@shared_task
def prepare(piece_id: int) -> None:
    """Make the clean copies of one piece. Sent twice, the second finds nothing to take.

    A worker that dies keeps its claim for LEASE; then the sweep sends the piece again. Whatever
    goes wrong that is no verdict of the decoder is our own trouble, and costs the piece nothing.
    """
    piece = Piece.objects.claim(piece_id)
    if piece is None:
        return
    original = store.path_of(piece.original)
    try:
        if not original.is_file():
            original.parents[1].stat()  # A disk that is not mounted has no file at all.
            log.error("the original of piece %d is gone", piece_id)
            refuse(piece, RefusalReason.UNREADABLE)
            return
        with renewed(piece), store.workplace(piece.pk, piece.attempts) as place:
            outcome = clean(original, place, turn=piece.turn)
            if isinstance(outcome, Refused):
                log.info("piece %d refused: %s (%s)", piece_id, outcome.reason, outcome.detail)
                refuse(piece, outcome.reason)
            else:
                finish(piece, outcome)
    except (CrashedError, store.DamagedError) as crash:
        log.exception("piece %d crashed its decoder, or is not what arrived", piece_id)
        if Piece.objects.note_crash(piece):
            refuse(piece, getattr(crash, "reason", RefusalReason.UNREADABLE))
    except Exception:
        log.exception("piece %d waits for a better moment", piece_id)
        Piece.objects.give_back(piece)


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
        if Piece.objects.note_crash(piece):
            turning.leave(piece)
    except Exception:
        log.exception("piece %d is turned at a better moment", piece_id)
        Piece.objects.give_back(piece)


@shared_task
@alone
def scrub() -> None:
    """Compare some of the stored files with what was made, those first that waited longest.

    The beat sends it again and again through the night, so that no slice takes long.
    """
    try:
        integrity.check_a_slice()
    except StoreAwayError:
        log.exception("the stored files cannot be compared now")


@shared_task
@alone
def look_again_at_damaged() -> None:
    """Show what was damaged as soon as it is mended."""
    try:
        integrity.look_again()
    except StoreAwayError:
        log.exception("the damaged files cannot be compared now")


@shared_task
@alone
def sweep() -> None:
    """Have all worked on that is unfinished, and clear what is left over: from the database."""
    left = (Piece.objects.unfinished(), Piece.objects.to_turn())
    have_worked_on(w for w in HEAVY if any(rows.weighing(w).next_key() for rows in left))
    if clock.is_plausible():
        clear_old()


def clear_old() -> None:
    """Delete what is left over, for its age: never by a clock that leapt."""
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
    """Have pieces worked on as soon as their rows are saved for good."""
    transaction.on_commit(partial(queue, piece_ids), robust=True)


@shared_task
@alone
def send_reminders() -> None:
    """Send the reminders that are due; run twice, each still goes out once."""
    send_due()


def queue(piece_ids: Iterable[int]) -> None:
    """Have pieces worked on: each weight among them, whatever else of it waits."""
    pieces = Piece.objects.filter(pk__in=list(piece_ids))
    have_worked_on(weight for weight in HEAVY if pieces.weighing(weight).exists())


def have_worked_on(weights: Iterable[Weight]) -> None:
    """Have what waits of *weights* worked on; a broker that is away is asked once."""
    all(send(work_on_pieces, weight.value, weight=weight) for weight in weights)

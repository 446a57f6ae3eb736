"""Jobs in trouble: only a decoder's own verdict refuses a file; no weight holds up another."""

import datetime as dt
from contextlib import ExitStack
from http.client import IncompleteRead
from types import SimpleNamespace

import pytest
from django.db import DatabaseError
from django.utils import timezone
from freezegun import freeze_time

from evidence import jobs
from evidence.media import CrashedError, RefusalReason, TryLaterError
from evidence.models import Piece
from evidence.storage import store
from evidence.storage.bucket import Bucket
from evidence.storage.reading import StoreAwayError
from portal.jobs import slots
from portal.jobs.lease import MOST_CRASHES, ODD_AFTER
from portal.jobs.slots import Weight
from portal.operations import clock
from tests.evidence.builders import files_in_store, jpeg, make_arrived_piece, make_submission
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import Village

pytestmark = [pytest.mark.django_db, BOTH_STORES]


@pytest.fixture
def piece(village: Village) -> Piece:
    return make_arrived_piece(make_submission(village), jpeg(size=(800, 600)))


def state_of(piece: Piece) -> str:
    piece.refresh_from_db()
    return piece.state


def test_a_worker_that_ends_ten_times_over_a_good_file_costs_it_nothing(piece):
    now = timezone.now()
    for attempt in range(10):
        with freeze_time(now + dt.timedelta(hours=attempt)):
            assert Piece.objects.claim(piece.pk) is not None

    with freeze_time(now + dt.timedelta(hours=11)):
        jobs.sweep()
        jobs.prepare(piece.pk)

    assert state_of(piece) == "ready"


def test_a_file_over_which_workers_end_again_and_again_comes_after_the_others(village, piece):
    Piece.objects.update(attempts=ODD_AFTER, leased_until=timezone.now() - dt.timedelta(minutes=5))
    assert not Piece.objects.unfinished().exists()
    other = make_arrived_piece(piece.submission, jpeg())
    with freeze_time(timezone.now() + dt.timedelta(hours=1)):
        assert list(Piece.objects.unfinished()) == [other, piece]


def test_a_file_that_crashes_its_decoder_each_time_is_parked_and_the_family_told(
    piece, monkeypatch
):
    def crash(*args: object, **kwargs: object) -> None:
        raise CrashedError(RefusalReason.TOOK_TOO_LONG, "no end")

    monkeypatch.setattr(jobs, "clean", crash)
    for minute in range(MOST_CRASHES):
        assert state_of(piece) == "arrived"
        with freeze_time(timezone.now() + dt.timedelta(minutes=minute)):
            jobs.prepare(piece.pk)

    assert state_of(piece) == "refused"
    assert piece.refusal == RefusalReason.TOOK_TOO_LONG
    assert store.path_of(piece.original).is_file()


@pytest.mark.parametrize(
    "trouble",
    [
        TryLaterError("the portal is being stopped"),
        OSError(28, "No space left on device"),
        TimeoutError("the job took too long"),
        StoreAwayError("the bucket does not answer"),
        IncompleteRead(b""),  # as a line that drops gives: no OSError, and of no one library
        DatabaseError("the database is away"),
        MemoryError(),
        RuntimeError("whatever else is ours"),
    ],
    ids=lambda trouble: type(trouble).__name__,
)
def test_no_trouble_of_our_own_ever_refuses_a_good_file(piece, monkeypatch, trouble):
    def fail(*args: object, **kwargs: object) -> None:
        raise trouble

    now = timezone.now()
    with monkeypatch.context() as patched:
        patched.setattr(store, "adopt", fail)
        for minute in range(3 * MOST_CRASHES):
            with freeze_time(now + dt.timedelta(minutes=2 * minute)):
                jobs.prepare(piece.pk)
    assert (state_of(piece), piece.attempts, piece.crashes) == ("arrived", 0, 0)

    with freeze_time(now + dt.timedelta(hours=1)):
        jobs.prepare(piece.pk)
    assert state_of(piece) == "ready"


def test_a_disk_that_is_not_mounted_refuses_nothing(piece):
    originals = store.path_of(piece.original).parents[1]
    originals.rename(originals.with_name("elsewhere"))
    jobs.prepare(piece.pk)
    assert state_of(piece) == "arrived"

    originals.with_name("elsewhere").rename(originals)
    with freeze_time(timezone.now() + dt.timedelta(hours=1)):
        jobs.prepare(piece.pk)
    assert state_of(piece) == "ready"


def test_clips_that_take_minutes_hold_up_no_photo(piece, settings, monkeypatch):
    clip = make_arrived_piece(piece.submission, b"a clip", kind=Piece.Kind.CLIP)
    done: list[int] = []

    def prepare(piece_id: int) -> None:
        done.append(piece_id)
        Piece.objects.claim(piece_id)

    monkeypatch.setattr(jobs, "prepare", SimpleNamespace(run=prepare))
    with ExitStack() as busy:
        for _slot in range(settings.JOB_WORKERS):
            busy.enter_context(slots._work[Weight.CLIPS])
        jobs.work_on_pieces("clips")
        assert done == []
        jobs.work_on_pieces("photos")
        assert done == [piece.pk]
    jobs.work_on_pieces("clips")
    assert done == [piece.pk, clip.pk]


def test_what_came_while_the_last_slot_was_being_left_is_done_all_the_same(monkeypatch):
    waiting = ["first"]

    def do_one() -> bool:
        if waiting:
            waiting.pop()
            return True
        if "late" not in came:
            came.append("late")  # It found no free slot, and its message is gone.
            waiting.append("late")
        return False

    came: list[str] = []
    slots.work_off(Weight.PHOTOS, do_one)
    assert (waiting, came) == ([], ["late"])


def test_a_full_disk_costs_the_file_no_attempt(piece, monkeypatch):
    def fail(*args: object, **kwargs: object) -> None:
        raise TryLaterError("the disk is full")

    with monkeypatch.context() as patched:
        patched.setattr(jobs, "clean", fail)
        for minute in range(2 * MOST_CRASHES):
            with freeze_time(timezone.now() + dt.timedelta(minutes=2 * minute)):
                jobs.prepare(piece.pk)
    assert (state_of(piece), piece.attempts) == ("arrived", 0)

    with freeze_time(timezone.now() + dt.timedelta(hours=1)):
        jobs.prepare(piece.pk)
    assert state_of(piece) == "ready"


def test_a_disk_that_is_full_for_the_clean_copy_leaves_the_original(piece, monkeypatch):
    def fail(*args: object) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(store, "put", fail)
    monkeypatch.setattr(Bucket, "put", fail)
    jobs.prepare(piece.pk)

    assert state_of(piece) == "arrived"
    assert store.path_of(piece.original).is_file()
    assert len(files_in_store()) == 1


def test_a_clock_that_leapt_three_years_sweeps_no_original_away(piece):
    Piece.objects.update(state=Piece.State.REFUSED, refusal=RefusalReason.UNREADABLE)
    clock.confirm()
    with freeze_time(timezone.now() + dt.timedelta(days=3 * 365)):
        jobs.sweep()
        assert store.path_of(piece.original).is_file()
        clock.confirm()
        jobs.sweep()
        assert not store.path_of(piece.original).is_file()

"""Jobs: each piece is prepared once, whatever dies, comes twice or is taken back meanwhile."""

import datetime as dt
import io
import logging
import socket
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from celery import Celery
from django.core.management import call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from freezegun import freeze_time
from kombu.exceptions import OperationalError

from evidence import jobs
from evidence.media import RefusalReason, Refused
from evidence.models import Piece, Rendition
from evidence.storage import store
from evidence.uploads.withdrawal import remove_piece, withdraw
from portal.jobs.lease import LEASE, renewed
from tests.evidence.builders import (
    at_once,
    files_in_store,
    jpeg,
    make_arrived_piece,
    make_plan,
    make_submission,
    sent,
    stored_bytes,
    upload,
)
from tests.evidence.media.samples import (
    KNOWING_A_PLACE,
    OTHERS_KNOWING_A_PLACE,
    knowing_a_place,
)
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import Village

pytestmark = [pytest.mark.django_db, BOTH_STORES]


@pytest.fixture
def piece(village: Village) -> Piece:
    return make_arrived_piece(make_submission(village), jpeg(size=(800, 600)))


def state_of(piece: Piece) -> str:
    piece.refresh_from_db()
    return piece.state


def test_a_photo_becomes_a_clean_copy_and_a_small_one_and_the_original_goes(piece):
    original = store.path_of(piece.original)

    jobs.prepare(piece.pk)

    assert state_of(piece) == "ready"
    assert {(each.role, each.page) for each in piece.renditions.all()} == {
        ("display", 1), ("thumb", 1),
    }  # fmt: skip
    assert not original.exists()
    assert piece.original == ""
    assert len(files_in_store()) == 2


@pytest.mark.parametrize("name", [*KNOWING_A_PLACE, *OTHERS_KNOWING_A_PLACE])
def test_a_place_in_a_photo_or_a_clip_is_gone_from_all_that_is_served(name, village, tmp_path):
    source = knowing_a_place(name, tmp_path)
    kind = "photo" if name.lower().endswith((".jpg", ".heic")) else "clip"
    piece = make_arrived_piece(make_submission(village), source.read_bytes(), kind=kind)

    jobs.prepare(piece.pk)

    assert state_of(piece) == "ready"

    for rendition in Rendition.objects.all():
        served = stored_bytes(rendition.name)
        for trace in (
            b"Exif\x00",
            b"GPS",
            b"\xa9xyz",
            b"loci",
            b"ISO6709",
            b"http://ns.adobe.com/xap",
        ):
            assert trace not in served, (rendition.role, trace)


def test_the_same_job_twice_does_the_work_once(piece):
    jobs.prepare(piece.pk)
    before = set(Rendition.objects.values_list("pk", "name"))

    jobs.prepare(piece.pk)

    assert set(Rendition.objects.values_list("pk", "name")) == before
    assert len(files_in_store()) == 2


def test_of_two_workers_one_gets_the_piece(piece):
    assert Piece.objects.claim(piece.pk).attempts == 1
    assert Piece.objects.claim(piece.pk) is None


def test_a_claim_is_decided_by_the_row_of_the_piece_alone(piece):
    with CaptureQueriesContext(connection) as queries:
        claimed = Piece.objects.claim(piece.pk)
        Piece.objects.held(claimed).update(attempts=1)

    updates = [each["sql"] for each in queries if each["sql"].startswith("UPDATE")]
    assert len(updates) == 2
    assert not any("SELECT" in sql for sql in updates)


@pytest.mark.servers
@pytest.mark.django_db(transaction=True)
def test_of_many_workers_at_once_one_gets_the_piece(piece):
    def claim(_worker: int) -> bool:
        try:
            return Piece.objects.claim(piece.pk) is not None
        finally:
            connection.close()

    with ThreadPoolExecutor(at_once()) as workers:
        assert sum(workers.map(claim, range(32))) == 1


def test_a_worker_that_was_given_up_cannot_finish_over_the_next(piece, monkeypatch):
    late = Piece.objects.claim(piece.pk)
    with freeze_time(timezone.now() + 2 * LEASE):
        assert Piece.objects.claim(piece.pk).attempts == 2

    assert not Piece.objects.held(late).exists()


def test_a_piece_taken_back_while_it_is_prepared_never_comes_back(piece, monkeypatch):
    real = jobs.clean

    def clean_slowly(*args: object, **kwargs: object):
        outcome = real(*args, **kwargs)
        remove_piece(Piece.objects.get(pk=piece.pk))
        return outcome

    monkeypatch.setattr(jobs, "clean", clean_slowly)
    jobs.prepare(piece.pk)

    assert state_of(piece) == "arrived"
    assert piece.withdrawn_at is not None
    assert not Piece.objects.ready().exists()
    assert not Rendition.objects.exists()
    jobs.sweep()
    assert Piece.objects.claim(piece.pk) is None


@pytest.mark.django_db(transaction=True)
def test_of_a_submission_taken_back_while_it_is_prepared_no_file_is_left(piece, monkeypatch):
    real = jobs.clean

    def clean_slowly(*args: object, **kwargs: object):
        outcome = real(*args, **kwargs)
        withdraw(Piece.objects.get(pk=piece.pk).submission)
        return outcome

    monkeypatch.setattr(jobs, "clean", clean_slowly)
    jobs.prepare(piece.pk)

    assert files_in_store() == []


def test_a_file_that_cannot_be_read_is_refused_in_plain_words(village):
    piece = make_arrived_piece(make_submission(village), jpeg()[:40] + b"\x00" * 5000)

    jobs.prepare(piece.pk)

    assert state_of(piece) == "refused"
    assert "Take the photo or clip again" in piece.refusal_words
    assert not Rendition.objects.exists()


def test_an_original_that_has_changed_is_never_shown(piece):
    store.path_of(piece.original).write_bytes(jpeg("red"))

    jobs.prepare(piece.pk)

    assert state_of(piece) == "arrived"
    assert not Rendition.objects.exists()


def test_the_sweep_sends_again_what_the_broker_forgot(piece, monkeypatch):
    queued = []
    monkeypatch.setattr(jobs, "send", lambda job, word, weight: queued.append(word) or True)

    jobs.sweep()
    assert queued == ["photos"]
    Piece.objects.claim(piece.pk)
    jobs.sweep()
    assert queued == ["photos"]


def test_the_original_of_a_refused_piece_goes_after_a_week(piece):
    Piece.objects.claim(piece.pk)
    Piece.objects.update(state="refused", refusal="unreadable")
    jobs.sweep()
    assert len(files_in_store()) == 1

    Piece.objects.update(arrived_at=timezone.now() - dt.timedelta(days=8))
    jobs.sweep()

    assert files_in_store() == []
    assert state_of(piece) == "refused"
    assert piece.original == ""


def test_a_sent_photo_is_queued_only_when_its_row_is_saved(
    village, signed_in, monkeypatch, django_capture_on_commit_callbacks
):
    make_plan(village.robins)
    queued = []
    monkeypatch.setattr(
        jobs.work_on_pieces, "apply_async", lambda args, **options: queued.append(args[0])
    )

    with django_capture_on_commit_callbacks(execute=False) as callbacks:
        sent(signed_in("family"), village.aisha, upload(jpeg()))
        assert queued == []
    for callback in callbacks:
        callback()

    assert queued == ["photos"]


def test_a_broker_that_is_away_costs_the_family_nothing_and_no_name_is_logged(
    village, signed_in, monkeypatch, caplog, django_capture_on_commit_callbacks
):
    make_plan(village.robins)

    def away(*args: object, **options: object) -> None:
        raise OperationalError("no broker")

    monkeypatch.setattr(jobs.work_on_pieces, "apply_async", away)
    with caplog.at_level(logging.INFO), django_capture_on_commit_callbacks(execute=True):
        submission = sent(signed_in("family"), village.aisha, upload(jpeg(), "aisha-kitchen.jpg"))

    assert submission.pieces.count() == 1
    assert "waits for the sweep" in caplog.text
    assert "isha" not in caplog.text


@pytest.fixture
def silent_broker():
    """Give the address of a broker that takes the call and never says a word."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        yield f"redis://127.0.0.1:{listening.getsockname()[1]}"


def queue_at(address: str, settings, monkeypatch) -> float:
    """Queue photos and clips at a broker that is not there; give how long the page waited."""
    app = Celery("elsewhere", broker=address, set_as_current=False)
    app.conf.broker_transport_options = settings.CELERY_BROKER_TRANSPORT_OPTIONS
    app.conf.task_publish_retry = settings.CELERY_TASK_PUBLISH_RETRY
    job = app.task(jobs.work_on_pieces.run, name="evidence.jobs.work_on_pieces")
    monkeypatch.setattr(jobs, "work_on_pieces", job)
    started = time.monotonic()
    jobs.have_worked_on(jobs.HEAVY)
    return time.monotonic() - started


@pytest.mark.parametrize("address", ["redis+socket:///nowhere/redis.sock", "redis://127.0.0.1:1"])
def test_a_page_does_not_wait_for_a_broker_that_is_not_there(address, settings, monkeypatch):
    assert queue_at(address, settings, monkeypatch) < 15


def test_a_page_hardly_waits_for_a_broker_that_hangs(silent_broker, settings, monkeypatch):
    assert queue_at(silent_broker, settings, monkeypatch) < 20


@pytest.mark.django_db(transaction=True)
def test_a_long_job_keeps_its_lease(piece):
    claimed = Piece.objects.claim(piece.pk)
    Piece.objects.update(leased_until=timezone.now() + dt.timedelta(seconds=1))
    before = Piece.objects.get(pk=piece.pk).leased_until

    with renewed(claimed, every=0.01):
        deadline = time.monotonic() + 10
        while Piece.objects.get(pk=piece.pk).leased_until == before:
            assert time.monotonic() < deadline

    assert Piece.objects.get(pk=piece.pk).leased_until > before + dt.timedelta(seconds=30)


def test_a_piece_is_turned_as_the_sender_asked(village):
    piece = make_arrived_piece(make_submission(village), jpeg(size=(800, 600)), turn=90)

    jobs.prepare(piece.pk)

    display = piece.renditions.get(role="display")
    assert (display.width, display.height) == (600, 800)


def test_an_operator_can_have_a_refused_piece_tried_again(piece, monkeypatch):
    with monkeypatch.context() as patched:
        patched.setattr(jobs, "clean", lambda *args, **options: Refused(RefusalReason.UNREADABLE))
        jobs.prepare(piece.pk)
    assert state_of(piece) == "refused"

    call_command("retry_refused", stdout=io.StringIO())
    jobs.prepare(piece.pk)

    assert state_of(piece) == "ready"

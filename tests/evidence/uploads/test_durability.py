"""What was answered with 'saved' outlives a power cut, and nothing is ever half saved."""

import hashlib
import os
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from django.db import OperationalError, connection, transaction
from django.test import Client

from evidence.models import Piece, Submission
from evidence.storage import orphans, store
from evidence.storage.orphans import clear_shard, drop_unnamed
from evidence.uploads import arrivals
from evidence.uploads.tus.upload_slots import DESKS_A_HOME
from tests.evidence.builders import (
    at_once,
    files_in_store,
    form,
    jpeg,
    make_arrived_piece,
    make_plan,
    make_ready_piece,
    make_submission,
    send_address,
    sent,
    stored,
    upload,
)
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import Village

pytestmark = pytest.mark.django_db


@pytest.fixture
def family(village: Village, signed_in):
    make_plan(village.robins)
    return signed_in("family")


def test_bytes_name_and_folder_are_on_the_disk_before_the_row_is_saved(
    village, family, monkeypatch
):
    happened = []
    real_fsync, real_replace, real_atomic = os.fsync, Path.replace, transaction.atomic

    def fsync(handle: int) -> None:
        is_folder = stat.S_ISDIR(os.fstat(handle).st_mode)
        happened.append("fsync folder" if is_folder else "fsync file")
        real_fsync(handle)

    def replace(self: Path, target: Path) -> None:
        happened.append("rename")
        real_replace(self, target)

    def atomic(*args: object, **kwargs: object):
        happened.append("rows")
        return real_atomic(*args, **kwargs)

    store.folder("originals")
    monkeypatch.setattr(store.os, "fsync", fsync)
    monkeypatch.setattr(store.Path, "replace", replace)
    monkeypatch.setattr(arrivals.transaction, "atomic", atomic)
    sent(family, village.aisha, upload(jpeg()))

    steps = happened[happened.index("fsync file") :]
    # Folders of the store made for the first name are flushed on the way.
    first = [step for step in steps if step != "fsync folder"][:3]
    assert first == ["fsync file", "rename", "rows"]
    assert steps[steps.index("rename") + 1] == "fsync folder"


@pytest.mark.parametrize("step", ["fsync", "rename", "write", "database"])
def test_when_a_step_fails_nothing_is_kept_and_the_family_is_told(
    village, family, monkeypatch, step
):
    def fail(*args: object, **kwargs: object) -> None:
        raise OperationalError("away") if step == "database" else OSError(28, "No space left")

    where = {
        "fsync": (store.os, "fsync"),
        "rename": (store.Path, "replace"),
        "write": (store.Incoming, "write"),
        "database": (arrivals, "save_words"),
    }[step]
    store.folder("incoming"), store.folder("originals")
    monkeypatch.setattr(*where, fail)

    note = "" if step == "write" else "Kept here."

    response = family.post(send_address(village.aisha), form(upload(jpeg()), note=note))

    assert response.status_code == 503
    assert "Please send it again in a few minutes." in response.content.decode()
    assert note in response.content.decode()
    assert not Submission.objects.exists()
    assert files_in_store() == []


def test_a_disk_that_fills_up_costs_neither_the_words_nor_the_file_before(
    village, family, monkeypatch
):
    real = store.Incoming.write

    def write(self: store.Incoming, data: bytes) -> None:
        if b"second" in data:
            raise OSError(28, "No space left on device")
        real(self, data)

    monkeypatch.setattr(store.Incoming, "write", write)
    response = family.post(
        send_address(village.aisha),
        form(upload(jpeg()), upload(jpeg("red") + b"second"), note="Both."),
        follow=True,
    )

    submission = Submission.objects.get()
    assert (submission.pieces.count(), submission.note) == (1, "Both.")
    assert "Number 2" in response.content.decode()
    assert len(files_in_store()) == 1


def test_a_file_whose_row_was_saved_after_all_is_never_removed(village):
    piece = make_arrived_piece(make_submission(village))
    stray = stored(jpeg("red"))

    drop_unnamed([piece.original, stray])

    assert store.path_of(piece.original).is_file()
    assert not store.path_of(stray).exists()


def test_files_without_a_row_are_swept_a_day_later_and_not_before(village):
    piece = make_arrived_piece(make_submission(village))
    old, fresh = stored(jpeg("red")), stored(jpeg("blue"))
    for name in (old, piece.original):
        os.utime(store.path_of(name), (0, 0))

    for shard in range(256):
        clear_shard(shard)

    assert {str(path)[-len(old) :] for path in files_in_store()} == {piece.original, fresh}


@BOTH_STORES
def test_a_clean_copy_without_a_row_is_swept_too_and_one_with_a_row_never(village, monkeypatch):
    piece = make_ready_piece(make_submission(village), jpeg())
    stray = stored(jpeg("red"), store.RENDITIONS)

    clear_shard(int(stray.split("/")[1], 16))
    assert len(files_in_store()) == 3
    monkeypatch.setattr(orphans, "DAY", -60.0)
    for name in (stray, *piece.renditions.values_list("name", flat=True)):
        clear_shard(int(name.split("/")[1], 16))

    left = {str(path)[-len(stray) :] for path in files_in_store()}
    assert left == set(piece.renditions.values_list("name", flat=True))


def test_half_received_files_and_left_workplaces_are_swept_a_day_later(own_store):
    store.Incoming().write(b"half")
    (store.folder("work", "7-1") / "display.jpg").write_bytes(b"half")
    assert store.clear_abandoned(60) == 0

    for path in [*(own_store / "incoming").iterdir(), *(own_store / "work").iterdir()]:
        os.utime(path, (0, 0))

    assert store.clear_abandoned(60) == 2
    assert files_in_store() == []


@pytest.mark.parametrize("name", ["originals/../secret", "/etc/passwd", "", "originals/ab/ab"])
def test_what_is_no_name_of_the_store_opens_nothing(name):
    with pytest.raises(FileNotFoundError):
        store.open_file(name)


def test_a_rendition_that_is_not_what_was_written_is_not_taken_in(tmp_path):
    (tmp_path / "display.jpg").write_bytes(b"other bytes")

    with pytest.raises(store.DamagedError):
        store.adopt(tmp_path / "display.jpg", "0" * 64)


def test_no_folder_of_the_store_can_be_read_by_others(village, own_store):
    make_arrived_piece(make_submission(village))

    folders = [own_store, *(path for path in own_store.rglob("*") if path.is_dir())]
    assert {folder.stat().st_mode & 0o777 for folder in folders} == {0o700}


def test_the_sha256_of_a_piece_is_that_of_its_bytes(village, family):
    content = jpeg(size=(900, 700))
    sent(family, village.aisha, upload(content))

    piece = Piece.objects.get()
    assert piece.sha256 == hashlib.sha256(content).hexdigest()
    assert store.path_of(piece.original).read_bytes() == content


@pytest.mark.servers
@pytest.mark.django_db(transaction=True)
def test_a_form_that_is_sent_many_times_at_once_makes_one_submission(village):
    make_plan(village.robins)
    photo = jpeg()

    def send(number: int) -> int:
        client = Client()
        client.force_login(village.people["family"])
        try:
            fields = form(upload(photo), note=f"Sent for the {number}th time.")
            return client.post(send_address(village.aisha), fields).status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(min(at_once(), DESKS_A_HOME)) as phones:
        assert set(phones.map(send, range(16))) == {302}

    assert (Submission.objects.count(), Piece.objects.count()) == (1, 1)
    assert len(files_in_store()) == 1

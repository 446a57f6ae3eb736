"""No byte that was promised is lost, and none that is not on the disk is promised."""

import datetime as dt
import errno
import os
from pathlib import Path
from types import SimpleNamespace

import pytest
from django.db import OperationalError
from django.utils import timezone

from evidence import jobs
from evidence.models import Piece, Submission, Upload
from evidence.storage import partial_files, store
from evidence.storage.orphans import clear_shard
from evidence.storage.partial_files import PartialFile
from evidence.uploads.tus import completing, ending, writing
from tests.evidence.builders import files_in_store, jpeg
from tests.evidence.uploads.tus.tus import (
    START,
    ask,
    begin,
    head,
    metadata,
    patch,
    sent_whole,
    upload_at,
)

pytestmark = pytest.mark.django_db
PHOTO = jpeg() + bytes(20_000)


def offset(client, address: str) -> int:
    return int(head(client, address).headers["Upload-Offset"])


@pytest.fixture
def said(monkeypatch) -> list[str]:
    """Note in order what is synced, what is promised, and when pieces are saved."""
    said: list[str] = []
    sync, promise, save = os.fsync, Upload.promise, Piece.objects.bulk_create

    def synced(handle: int) -> None:
        said.append("folder" if Path(f"/proc/self/fd/{handle}").is_dir() else "file")
        sync(handle)

    def promised(self: Upload, offset: int) -> None:
        said.append("promise")
        promise(self, offset)

    def saved(self, objects, **more):
        said.append("piece")
        return save(objects, **more)

    monkeypatch.setattr(os, "fsync", synced)
    monkeypatch.setattr(Upload, "promise", promised)
    monkeypatch.setattr(type(Piece.objects), "bulk_create", saved)
    return said


def test_bytes_are_on_the_disk_before_they_are_promised(family, child, said):
    address = begin(family, child, len(PHOTO))
    assert said[-1] == "folder"  # The new file's name, before its address is told.
    said.clear()

    patch(family, address, 0, PHOTO[:9_000])

    assert said == ["file", "promise"]


def test_a_piece_is_saved_after_its_bytes_and_its_name_are_on_the_disk(family, child, said):
    address = begin(family, child, len(PHOTO))
    said.clear()

    patch(family, address, 0, PHOTO)

    assert said.index("file") < said.index("folder") < said.index("piece")


def test_what_was_written_after_the_last_promise_is_written_again(family, child):
    address = begin(family, child, len(PHOTO))
    patch(family, address, 0, PHOTO[:9_000])
    with partial_files.path_of(upload_at(address).file).open("ab") as file:
        file.write(b"bytes of a machine that lost its power" * 99)

    assert offset(family, address) == 9_000
    assert patch(family, address, 9_000, PHOTO[9_000:]).status_code == 204
    assert Piece.objects.get().size == len(PHOTO)


def test_a_file_that_lost_promised_bytes_is_gone_and_not_made_up(family, child):
    address = begin(family, child, len(PHOTO))
    patch(family, address, 0, PHOTO[:9_000])
    os.truncate(partial_files.path_of(upload_at(address).file), 5_000)

    assert patch(family, address, 9_000, PHOTO[9_000:]).status_code == 410
    assert not Submission.objects.exists()


def test_a_failed_sync_is_never_tried_again_on_the_same_bytes(family, child, monkeypatch):
    """Source: Rebello et al., USENIX ATC 2020: after a failed fsync the pages are marked clean."""
    address = begin(family, child, len(PHOTO))
    patch(family, address, 0, PHOTO[:9_000])
    asked: list[int] = []

    def failing(handle: int) -> None:
        asked.append(handle)
        raise OSError(errno.EIO, "the disk is ill")

    monkeypatch.setattr(partial_files, "os", SimpleNamespace(**{**vars(os), "fsync": failing}))
    answer = patch(family, address, 9_000, PHOTO[9_000:12_000])
    monkeypatch.undo()

    assert answer.status_code == 507
    assert len(asked) == 1
    assert offset(family, address) == 9_000


def test_a_full_disk_is_told_in_words_before_anything_is_called_saved(family, child, monkeypatch):
    address = begin(family, child, len(PHOTO))
    write, taken = PartialFile.write, []

    def full(self: PartialFile, data: bytes) -> None:
        if taken:
            raise OSError(errno.ENOSPC, "no space left")
        taken.append(data)
        write(self, data)

    monkeypatch.setattr(PartialFile, "write", full)
    answer = patch(family, address, 0, PHOTO)
    monkeypatch.undo()

    assert answer.status_code == 507
    assert "could not save this just now" in answer.content.decode()
    kept = offset(family, address)
    assert kept == len(taken[0]) > 0
    assert patch(family, address, kept, PHOTO[kept:]).status_code == 204
    assert Piece.objects.get().size == len(PHOTO)


def test_no_upload_begins_that_the_disk_has_no_room_for(family, child, monkeypatch):
    monkeypatch.setattr(partial_files, "free_bytes", lambda: 65_000_000)

    told = metadata(child)
    answer = ask(family, "POST", START, Upload_Length="2000000", Upload_Metadata=told)

    assert answer.status_code == 507
    assert "could not save this just now" in answer.content.decode()
    assert not Upload.objects.exists()


def test_a_database_that_is_away_at_the_last_byte_costs_only_that_byte(family, child, monkeypatch):
    address = begin(family, child, len(PHOTO))

    def away(*_args: object) -> None:
        raise OperationalError("away")

    monkeypatch.setattr(completing, "close", away)
    answer = patch(family, address, 0, PHOTO)
    monkeypatch.undo()

    assert answer.status_code == 503
    assert not Submission.objects.exists()
    assert offset(family, address) == len(PHOTO) - 1
    assert patch(family, address, len(PHOTO) - 1, PHOTO[-1:]).status_code == 204
    assert Piece.objects.get().size == len(PHOTO)
    assert len(files_in_store()) == 1


def test_bytes_are_promised_while_a_long_body_comes_in(family, child, monkeypatch):
    monkeypatch.setattr(writing, "PROMISE_EVERY", 0)
    address = begin(family, child, len(PHOTO))
    promised: list[int] = []
    promise = Upload.promise
    monkeypatch.setattr(
        Upload, "promise", lambda self, at: (promised.append(at), promise(self, at))
    )

    patch(family, address, 0, PHOTO)

    assert promised == sorted(promised)
    assert len(promised) > 2


def test_an_answer_that_was_lost_is_asked_for_again_and_nothing_is_twice(family, child):
    upload = sent_whole(family, child, PHOTO)
    address = f"{START}{upload.token}/"

    assert offset(family, address) == len(PHOTO)
    assert ask(family, "DELETE", f"{START}nobody/").status_code == 404
    assert Piece.objects.count() == 1


def test_an_upload_that_nobody_goes_on_with_is_swept_away_with_its_bytes(family, child):
    old, young = begin(family, child, 900), begin(family, child, 900)
    Upload.objects.filter(pk=upload_at(old).pk).update(
        expires_at=timezone.now() - dt.timedelta(minutes=1)
    )

    jobs.sweep()

    assert len([*partial_files.path_of("").iterdir()]) == 1
    assert (head(family, old).status_code, head(family, young).status_code) == (410, 200)
    Upload.objects.update(expires_at=timezone.now() - dt.timedelta(days=2))
    jobs.sweep()
    jobs.sweep()
    assert not Upload.objects.exists()


def test_bytes_that_no_upload_speaks_of_are_swept_away(family, child):
    kept = upload_at(begin(family, child, 900)).file
    lost = partial_files.begin()
    partial_files.note_beside(lost).touch()

    assert ending.clear_orphans(older_than=-1) == 1
    assert [path.name for path in partial_files.path_of("").iterdir()] == [kept]


def test_a_name_given_just_before_a_crash_is_swept_away(family, child):
    upload = upload_at(begin(family, child, 900))
    name = partial_files.twin(partial_files.path_of(upload.file))

    clear_shard(int(name.split("/")[1], 16))
    assert len(files_in_store()) == 2  # It is too young to be sure of.

    os.utime(partial_files.path_of(upload.file), (0, 0))
    clear_shard(int(name.split("/")[1], 16))
    assert len(files_in_store()) == 1


def test_a_file_system_without_second_names_gets_copies(family, child, monkeypatch):
    def no_links(*_args: object) -> None:
        raise OSError(errno.EPERM, "not here")

    monkeypatch.setattr(os, "link", no_links)

    upload = sent_whole(family, child, PHOTO)

    assert store.path_of(upload.pieces.get().original).read_bytes() == PHOTO

"""A stored copy that has changed is found at night, not shown, told of, and shown once mended."""

import datetime as dt
import logging

import pytest
from django.core.files.storage import storages
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from evidence import jobs
from evidence.models import Piece, Rendition
from evidence.operations import after_restore, file_figures
from evidence.storage import integrity, store
from evidence.storage.reading import StoreAwayError
from portal.operations.hooks import Restored
from portal.operations.models import Mark
from tests.evidence.builders import (
    jpeg,
    make_ready_piece,
    make_submission,
    spoil,
    stored_bytes,
)
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import Village

pytestmark = [pytest.mark.django_db, BOTH_STORES]
RESTORED = Restored(dt.datetime(2026, 11, 23, tzinfo=dt.UTC))


@pytest.fixture
def piece(village: Village) -> Piece:
    return make_ready_piece(make_submission(village), jpeg())


@pytest.fixture
def tomorrow():
    """Let a night go by."""
    with freeze_time(timezone.now() + dt.timedelta(days=1)) as time:
        yield time


def flip_a_byte(piece: Piece, role: str = "display") -> str:
    """Change one bit of a stored file, as a failing disk does, and give its name."""
    name = piece.renditions.get(role=role).name
    content = bytearray(stored_bytes(name))
    content[len(content) // 2] ^= 1
    spoil(name, bytes(content))
    return name


def state_of(piece: Piece) -> tuple[str, str]:
    piece.refresh_from_db()
    return piece.state, piece.refusal


def figure(name: str):
    return next(each for each in file_figures() if each.name == name)


def test_a_flipped_byte_is_found_and_the_operator_told_by_ids_alone(piece, tomorrow, caplog):
    name = flip_a_byte(piece)

    with caplog.at_level(logging.INFO):
        jobs.scrub()

    assert state_of(piece) == ("refused", "damaged")
    damaged = Rendition.objects.get(name=name)
    assert f"rendition {damaged.pk} of piece {piece.pk} is damaged" in caplog.text
    assert "isha" not in caplog.text
    assert figure("damaged_files").value == 1
    assert figure("damaged_files").is_bad
    assert not Mark.objects.filter(name=Mark.Name.SCRUB).exists()


def test_a_damaged_picture_is_told_of_in_words_and_never_shown(piece, tomorrow, signed_in):
    flip_a_byte(piece)
    jobs.scrub()

    family = signed_in("family")
    page = family.get(reverse("evidence:submission", args=[piece.submission.token]))
    assert "could not be read" in page.content.decode()
    assert "Our copy of it is damaged" in page.content.decode()
    for who in ("family", "teacher"):
        for role in ("display", "thumb"):
            url = reverse("evidence:piece", args=[piece.token, role])
            assert signed_in(who).get(url).status_code == 404


def test_a_file_that_is_gone_is_found_too(piece, tomorrow):
    store.remove([piece.renditions.get(role="thumb").name])

    jobs.scrub()

    assert state_of(piece) == ("refused", "damaged")


def test_what_is_well_stays_as_it_is_and_the_night_is_noted(piece, tomorrow):
    jobs.scrub()

    assert state_of(piece) == ("ready", "")
    assert not Rendition.objects.filter(checked_at__lt=timezone.now()).exists()
    assert Mark.objects.get(name=Mark.Name.SCRUB).at == timezone.now()
    assert not figure("damaged_files").is_bad


def test_a_mended_file_is_shown_again(piece, tomorrow, signed_in):
    name = flip_a_byte(piece)
    jobs.scrub()

    spoil(name, jpeg())
    jobs.look_again_at_damaged()

    assert state_of(piece) == ("ready", "")
    url = reverse("evidence:piece", args=[piece.token, "display"])
    assert signed_in("family").get(url).getvalue() == jpeg()


def test_a_piece_with_two_damaged_files_waits_for_both(piece, tomorrow):
    names = [flip_a_byte(piece, role) for role in ("display", "thumb")]
    jobs.scrub()

    spoil(names[0], jpeg())
    jobs.look_again_at_damaged()
    assert state_of(piece) == ("refused", "damaged")
    spoil(names[1], jpeg())
    jobs.look_again_at_damaged()
    assert state_of(piece) == ("ready", "")


def test_a_restore_shows_again_what_it_mended(piece, tomorrow):
    name = flip_a_byte(piece)
    jobs.scrub()
    assert list(after_restore(RESTORED)) == ["1 stored files are damaged."]

    spoil(name, jpeg())

    assert list(after_restore(RESTORED)) == ["No stored file is known as damaged."]
    assert state_of(piece) == ("ready", "")


def test_a_night_ends_when_all_were_compared_and_the_next_begins_with_the_longest(
    village, tomorrow, monkeypatch
):
    pieces = [make_ready_piece(make_submission(village), jpeg()) for _ in range(3)]
    Rendition.objects.update(checked_at=timezone.now() - dt.timedelta(days=2))
    first = pieces[1].renditions.first()
    Rendition.objects.filter(pk=first.pk).update(checked_at=timezone.now() - dt.timedelta(days=9))
    read = []
    real = integrity.is_well
    monkeypatch.setattr(integrity, "is_well", lambda each: read.append(each.pk) or real(each))

    jobs.scrub()
    jobs.scrub()

    assert read[0] == first.pk
    assert sorted(read) == sorted(Rendition.objects.values_list("pk", flat=True))


def test_a_slice_ends_in_time_and_the_next_goes_on_where_it_was(village, tomorrow, monkeypatch):
    for _ in range(3):
        make_ready_piece(make_submission(village), jpeg())
    Rendition.objects.update(checked_at=timezone.now() - dt.timedelta(days=2))
    real = integrity.is_well

    def slow(rendition: Rendition) -> bool:
        tomorrow.tick(15)
        return real(rendition)

    monkeypatch.setattr(integrity, "is_well", slow)

    assert [integrity.check_a_slice(), integrity.check_a_slice()] == [2, 2]
    assert not Mark.objects.exists()
    assert integrity.check_a_slice() == 2
    assert Mark.objects.exists()


def test_a_piece_that_is_taken_back_while_it_is_read_is_no_fault(piece, tomorrow, monkeypatch):
    def vanish(rendition: Rendition) -> bool:
        Rendition.objects.all().delete()
        return False

    monkeypatch.setattr(integrity, "is_well", vanish)

    jobs.scrub()

    assert state_of(piece) == ("ready", "")


def test_a_store_that_is_away_damages_nothing(piece, tomorrow, own_store, settings):
    if "renditions" in settings.STORAGES:
        client = storages["renditions"].connection.meta.client
        bucket = storages["renditions"].bucket_name
        for rendition in Rendition.objects.all():
            client.delete_object(Bucket=bucket, Key=rendition.name)
        client.delete_bucket(Bucket=bucket)
    else:
        own_store.rename(own_store.with_name("unmounted"))

    jobs.scrub()

    assert state_of(piece) == ("ready", "")
    assert list(after_restore(RESTORED)) == ["No stored file is known as damaged."]
    with pytest.raises(StoreAwayError):
        store.open_file(piece.renditions.first().name)


def test_a_store_that_nobody_compares_is_told_of(piece):
    assert not figure("longest_unchecked_file_seconds").is_bad

    with freeze_time(timezone.now() + dt.timedelta(days=9)):
        assert figure("longest_unchecked_file_seconds").is_bad

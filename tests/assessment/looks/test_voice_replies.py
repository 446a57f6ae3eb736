"""Spoken replies: recorded by staff, made ready in a job, heard by the right home alone."""

import datetime as dt
from pathlib import Path

import av
import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone
from freezegun import freeze_time
from kombu.exceptions import OperationalError

from assessment import jobs
from assessment.looks import voice_cleaning
from assessment.models import VoiceReply
from evidence.media import CrashedError, RefusalReason, TryLaterError
from evidence.storage import store
from evidence.storage.orphans import unnamed
from evidence.uploads.withdrawal import withdraw
from portal.jobs.lease import LEASE, MOST_CRASHES
from portal.operations.hooks import stored_files
from tests.assessment.builders import a_moment_ago, looked, send, set_day
from tests.evidence.media import made

HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture(autouse=True)
def own_store(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def work(village):
    return send(village.aisha, village.first_home, set_day(village.robins))


@pytest.fixture
def recording(tmp_path) -> bytes:
    """Return what a browser records: WebM with Opus in it."""
    return made.voice(tmp_path / "note", "webm", "libopus").read_bytes()


def record(client, work, content, **more):
    """Send a recording as the page does."""
    file = SimpleUploadedFile("voice", content, "audio/webm")
    return client.post(f"/look/{work.token}/voice/", {"voice": file}, **{**HTMX, **more})


def spoken(client, work, content) -> VoiceReply:
    """Record a reply, a moment ago, and make it ready."""
    with a_moment_ago():
        assert record(client, work, content).status_code == 200
    reply = VoiceReply.objects.active().get(submission=work)
    voice_cleaning.make_ready(reply.pk)
    reply.refresh_from_db()
    return reply


def files() -> list[Path]:
    """List every file in the store."""
    return [path for path in Path(settings.MEDIA_ROOT).rglob("*") if path.is_file()]


def test_a_recording_becomes_clean_sound_and_the_original_goes(village, signed_in, work, recording):
    reply = spoken(signed_in("teacher"), work, recording)
    assert (reply.state, reply.media_type) == ("ready", "audio/mp4")
    assert reply.spoken_by == village.people["teacher"]
    assert files() == [store.path_of(reply.name)]
    with av.open(str(files()[0])) as sound:
        assert sound.streams.audio[0].codec_context.name == "aac"
        assert not sound.metadata.get("location")


def test_the_family_hears_it_once_the_look_is_saved_and_the_other_home_never(
    village, signed_in, work, recording
):
    reply = spoken(signed_in("teacher"), work, recording)
    address = f"/voices/{reply.token}/"
    assert signed_in("family").get(address).status_code == 404
    looked(work, village.people["teacher"], reply="")
    answer = signed_in("family").get(address, HTTP_RANGE="bytes=0-9")
    assert answer.status_code == 206
    assert len(b"".join(answer.streaming_content)) == 10
    assert answer["Cache-Control"] == "private, no-store"
    for role in ("second home", "other family", "other teacher", "office", "foreign lead"):
        assert signed_in(role).get(address).status_code == 404


def test_it_stands_on_the_page_of_what_was_sent_and_on_the_week(
    village, signed_in, work, recording
):
    reply = spoken(signed_in("teacher"), work, recording)
    looked(work, village.people["teacher"], reply="")
    for page in (f"/sent/{work.token}/", "/weeks/2026-W48/"):
        html = signed_in("family").get(page).content.decode()
        assert f'src="/voices/{reply.token}/"' in html
        assert "The teacher has looked at this." not in html


def test_until_it_is_ready_the_page_asks_again_and_then_plays_it(signed_in, work, recording):
    client = signed_in("teacher")
    html = record(client, work, recording).content.decode()
    reply = VoiceReply.objects.get()
    assert f'data-poll="/voices/{reply.token}/state/"' in html
    voice_cleaning.make_ready(reply.pk)
    html = client.get(f"/voices/{reply.token}/state/").content.decode()
    assert "data-poll" not in html
    assert f'src="/voices/{reply.token}/"' in html
    assert "once you save" in html


def test_a_new_recording_takes_the_place_of_the_old(signed_in, work, recording):
    client = signed_in("teacher")
    first = spoken(client, work, recording)
    second = spoken(client, work, recording)
    first.refresh_from_db()
    assert first.taken_back_at is not None
    assert list(VoiceReply.objects.ready()) == [second]


def test_it_can_be_taken_back_and_put_back(village, signed_in, work, recording):
    client = signed_in("teacher")
    reply = spoken(client, work, recording)
    looked(work, village.people["teacher"])
    html = client.post(f"/voices/{reply.token}/take-back/", **HTMX).content.decode()
    assert "Nobody can hear it." in html
    assert signed_in("family").get(f"/voices/{reply.token}/").status_code == 404
    client.post(f"/voices/{reply.token}/put-back/", **HTMX)
    assert signed_in("family").get(f"/voices/{reply.token}/").status_code == 200


def test_what_was_taken_back_does_not_oust_what_was_said_since(signed_in, work, recording):
    client = signed_in("teacher")
    first = spoken(client, work, recording)
    second = spoken(client, work, recording)
    html = client.post(f"/voices/{first.token}/put-back/", **HTMX).content.decode()
    assert "something newer is there" in html
    assert list(VoiceReply.objects.active()) == [second]


def test_a_day_later_what_was_taken_back_is_gone_with_its_file(signed_in, work, recording):
    client = signed_in("teacher")
    reply = spoken(client, work, recording)
    client.post(f"/voices/{reply.token}/take-back/")
    jobs.sweep_voices()
    assert files()
    with freeze_time(timezone.now() + dt.timedelta(days=1, minutes=1)):
        assert client.post(f"/voices/{reply.token}/put-back/").status_code in (302, 404)
        assert VoiceReply.objects.filter(taken_back_at=None).count() == 0
        jobs.sweep_voices()
    assert files() == []
    assert not VoiceReply.objects.exists()


def test_with_work_that_the_family_took_back_the_voice_goes_too(signed_in, work, recording):
    reply = spoken(signed_in("teacher"), work, recording)
    withdraw(work)
    assert signed_in("teacher").get(f"/voices/{reply.token}/").status_code == 404
    with freeze_time(timezone.now() + dt.timedelta(days=1, minutes=1)):
        jobs.sweep_voices()
    assert files() == []


@pytest.mark.parametrize("content", [b"", b"no sound at all", b"\x1aE\xdf\xa3" + bytes(900)])
def test_what_is_no_voice_is_told_at_once_or_after_cleaning(signed_in, work, content):
    answer = record(signed_in("teacher"), work, content)
    for reply in VoiceReply.objects.all():
        voice_cleaning.make_ready(reply.pk)
    refused = VoiceReply.objects.filter(state="refused")
    assert answer.status_code == 422 or refused.exists()
    assert not VoiceReply.objects.ready().exists()


def test_a_clip_with_a_picture_is_no_voice(signed_in, work, tmp_path):
    clip = made.clip(tmp_path / "clip.mp4").read_bytes()
    reply = spoken(signed_in("teacher"), work, clip)
    assert (reply.state, reply.refusal) == ("refused", "unknown_kind")
    html = signed_in("teacher").get(f"/look/{work.token}/").content.decode()
    assert reply.refusal_words in html


def test_of_two_messages_the_second_finds_nothing_to_take(signed_in, work, recording, monkeypatch):
    reply = spoken(signed_in("teacher"), work, recording)
    monkeypatch.setattr(voice_cleaning, "clean", lambda *_: pytest.fail("cleaned twice"))
    voice_cleaning.make_ready(reply.pk)
    reply.refresh_from_db()
    assert reply.state == "ready"


def test_a_worker_that_dies_gives_the_reply_up_and_the_sweep_sends_it_again(
    signed_in, work, recording, monkeypatch
):
    sent = []
    record(signed_in("teacher"), work, recording)
    monkeypatch.setattr(
        jobs.work_on_voices, "apply_async", lambda args, **more: sent.append(more["queue"])
    )
    reply = VoiceReply.objects.claim(VoiceReply.objects.get().pk)
    jobs.sweep_voices()
    assert sent == []  # Somebody is at it.
    with freeze_time(timezone.now() + LEASE + dt.timedelta(seconds=1)):
        jobs.sweep_voices()
    assert sent == ["photos"]
    assert reply.attempts == 1


def test_a_recording_that_crashes_its_decoder_each_time_is_refused_and_not_tried_for_ever(
    signed_in, work, recording, monkeypatch
):
    def crash(*_args):
        raise CrashedError(RefusalReason.UNREADABLE, "killed")

    record(signed_in("teacher"), work, recording)
    monkeypatch.setattr(voice_cleaning, "clean", crash)
    for minute in range(MOST_CRASHES):
        with freeze_time(timezone.now() + dt.timedelta(minutes=minute)):
            voice_cleaning.make_ready(VoiceReply.objects.get().pk)
    assert VoiceReply.objects.get().state == "refused"


@pytest.mark.parametrize("trouble", [TryLaterError(), OSError(), RuntimeError()])
def test_trouble_that_is_not_the_recordings_costs_it_no_attempt(
    signed_in, work, recording, monkeypatch, trouble
):
    def too_full(*_args):
        raise trouble

    monkeypatch.setattr(voice_cleaning, "clean", too_full)
    record(signed_in("teacher"), work, recording)
    voice_cleaning.make_ready(VoiceReply.objects.get().pk)
    reply = VoiceReply.objects.get()
    assert (reply.state, reply.attempts) == ("arrived", 0)
    assert store.path_of(reply.name).is_file()


@pytest.mark.django_db(transaction=True)
def test_a_broker_that_is_away_loses_nothing(village, signed_in, work, recording, monkeypatch):
    def away(*_args, **_more):
        raise OperationalError

    monkeypatch.setattr(jobs.work_on_voices, "apply_async", away)
    assert record(signed_in("teacher"), work, recording).status_code == 200
    assert VoiceReply.objects.unfinished().count() == 1


def test_a_disk_that_is_full_is_told_and_nothing_is_left(signed_in, work, recording, monkeypatch):
    def full(_self):
        raise OSError

    monkeypatch.setattr(store.Incoming, "keep", full)
    answer = record(signed_in("teacher"), work, recording)
    assert answer.status_code == 503
    assert not VoiceReply.objects.exists()


def test_the_broom_and_the_backup_know_its_file(signed_in, work, recording):
    reply = spoken(signed_in("teacher"), work, recording)
    assert unnamed([reply.name]) == []
    assert reply.name in [file.name for file in stored_files()]


def test_only_the_childs_own_staff_record_hear_and_take_back(village, signed_in, work, recording):
    reply = spoken(signed_in("teacher"), work, recording)
    looked(work, village.people["teacher"])
    for role in ("family", "second home", "other teacher", "office", "foreign lead"):
        client = signed_in(role)
        assert record(client, work, recording).status_code == 404
        for action in ("take-back", "put-back"):
            assert client.post(f"/voices/{reply.token}/{action}/").status_code == 404
        assert client.get(f"/voices/{reply.token}/state/").status_code == 404
    assert VoiceReply.objects.ready().count() == 1

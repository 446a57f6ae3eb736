"""Turning a picture by quarters: it is shown anew, once, and nothing of the old one stays."""

import datetime as dt
import io
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time
from PIL import Image

from evidence import jobs
from evidence.media import CrashedError, RefusalReason, Refused, TryLaterError
from evidence.models import Piece, Rendition
from evidence.processing import turning
from evidence.storage import store
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER
from evidence.uploads.turn_requests import ask
from evidence.uploads.withdrawal import withdraw
from portal.jobs.lease import LEASE, MOST_CRASHES
from tests.evidence.builders import (
    at_once,
    files_in_store,
    jpeg,
    make_arrived_piece,
    make_submission,
    spoil,
    stored_bytes,
)
from tests.evidence.media import made
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import Village

pytestmark = [pytest.mark.django_db, BOTH_STORES]


def quarters() -> bytes:
    out = io.BytesIO()
    made.quarters(400, 300).save(out, "JPEG")
    return out.getvalue()


@pytest.fixture
def piece(village: Village) -> Piece:
    """Return a photo that is ready: red, green, blue, white in its corners."""
    piece = make_arrived_piece(make_submission(village), quarters())
    jobs.prepare(piece.pk)
    piece.refresh_from_db()
    return piece


def shown(piece: Piece, role: str = "display", page: int = 1) -> Image.Image:
    rendition = Rendition.objects.get(piece=piece, role=role, page=page)
    picture = Image.open(io.BytesIO(stored_bytes(rendition.name)))
    if rendition.width:
        assert picture.size == (rendition.width, rendition.height)
    return picture


def press(client, piece: Piece, turn: object = 90, **more):
    return client.post(reverse("evidence:piece-turn", args=[piece.token]), {"turn": turn}, **more)


def test_a_photo_is_turned_by_a_quarter_and_so_is_its_small_copy(piece):
    ask(piece, 90)
    jobs.turn(piece.pk)

    assert made.corners(shown(piece)) == ("blue", "red", "white", "green")
    assert shown(piece).size == (300, 400)
    assert made.corners(shown(piece, "thumb")) == ("blue", "red", "white", "green")


def test_four_quarters_show_it_as_it_was(piece):
    for turn in (90, 180, 270, 0):
        ask(piece, turn)
        jobs.turn(piece.pk)

    assert made.corners(shown(piece)) == made.UPRIGHT
    assert len(files_in_store()) == 2


def test_presses_that_come_quickly_are_done_together(piece):
    for turn in (90, 180, 270):
        ask(piece, turn)
    jobs.turn(piece.pk)
    once = set(Rendition.objects.values_list("pk", "name"))
    jobs.turn(piece.pk)

    assert made.corners(shown(piece)) == ("green", "white", "red", "blue")
    piece.refresh_from_db()
    assert piece.turned == 270
    assert set(Rendition.objects.values_list("pk", "name")) == once


def test_the_same_press_twice_and_the_same_job_twice_turn_it_once(piece):
    ask(piece, 90)
    ask(piece, 90)
    jobs.turn(piece.pk)
    before = set(Rendition.objects.values_list("pk", "name"))
    ask(piece, 90)
    jobs.turn(piece.pk)

    assert set(Rendition.objects.values_list("pk", "name")) == before
    assert made.corners(shown(piece)) == ("blue", "red", "white", "green")


@pytest.mark.django_db(transaction=True)
def test_the_copies_from_before_are_deleted(piece):
    before = set(Rendition.objects.values_list("name", flat=True))

    ask(piece, 90)
    jobs.turn(piece.pk)

    after = set(Rendition.objects.values_list("name", flat=True))
    assert not before & after
    assert {str(path)[-len(next(iter(after))) :] for path in files_in_store()} == after


def test_a_clip_is_turned_with_its_poster_and_goes_on_as_long_as_before(village, tmp_path):
    clip = made.clip(tmp_path / "clip.mp4", seconds=1.0, size=(160, 120)).read_bytes()
    piece = make_arrived_piece(make_submission(village), clip, kind="clip")
    jobs.prepare(piece.pk)
    before = piece.renditions.get(role="clip")

    ask(piece, 90)
    jobs.turn(piece.pk)

    after = piece.renditions.get(role="clip")
    assert (after.width, after.height) == (before.height, before.width)
    assert after.seconds == pytest.approx(before.seconds, abs=0.1)
    (tmp_path / "turned.mp4").write_bytes(stored_bytes(after.name))
    assert made.corners(made.first_picture(tmp_path / "turned.mp4"))[1] == "red"
    assert made.corners(shown(piece, "poster"))[1] == "red"


def test_every_page_of_a_pdf_is_turned(village, tmp_path):
    content = made.pdf(tmp_path / "pages.pdf", 2).read_bytes()
    piece = make_arrived_piece(make_submission(village), content, kind="page")
    jobs.prepare(piece.pk)

    ask(piece, 90)
    jobs.turn(piece.pk)

    assert {(each.role, each.page) for each in piece.renditions.all()} == {
        ("display", 1), ("display", 2), ("thumb", 1),
    }  # fmt: skip
    for page in (1, 2):
        assert made.corners(shown(piece, page=page))[1] == "red"


def test_a_voice_note_has_no_way_up(village, tmp_path):
    content = made.voice(tmp_path / "hum.m4a", "mp4", "aac").read_bytes()
    piece = make_arrived_piece(make_submission(village), content, kind="voice")
    jobs.prepare(piece.pk)

    ask(piece, 90)

    piece.refresh_from_db()
    assert (piece.kind, piece.turn) == ("voice", 0)
    assert not piece.can_be_turned


def test_what_the_sender_chose_is_counted_from(village):
    piece = make_arrived_piece(make_submission(village), quarters(), turn=90)
    jobs.prepare(piece.pk)
    piece.refresh_from_db()
    assert (piece.turned, piece.next_turn) == (90, 180)

    ask(piece, 180)
    jobs.turn(piece.pk)

    assert made.corners(shown(piece)) == ("white", "blue", "green", "red")


MAY_TURN = {
    "family": 302, "teacher": 302, "assistant": 302, "lead": 302, "visitor": 302,
    "second home": 404, "other family": 404, "other teacher": 404, "office": 404,
    "foreign lead": 404, "foreign family": 404,
}  # fmt: skip


@pytest.mark.parametrize("role", MAY_TURN)
def test_only_the_own_home_and_the_staff_of_the_class_turn_a_piece(piece, signed_in, role):
    assert press(signed_in(role), piece).status_code == MAY_TURN[role]

    piece.refresh_from_db()
    assert piece.turn == (90 if MAY_TURN[role] == 302 and role != "visitor" else 0)


def test_after_a_look_staff_may_turn_it_and_the_family_may_not(piece, signed_in):
    type(piece.submission).objects.update(looked_at=timezone.now())

    answer = press(signed_in("family"), piece)
    assert answer.status_code == 409
    assert "cannot be changed any more" in answer.content.decode()
    assert press(signed_in("teacher"), piece, 180).status_code == 302
    piece.refresh_from_db()
    assert piece.turn == 180


@pytest.mark.parametrize("turn", ["", "45", "-90", "360", "90.0", "x", "٩٠"])
def test_only_quarters_are_taken(piece, signed_in, turn):
    assert press(signed_in("family"), piece, turn).status_code == 400


@pytest.mark.parametrize(
    ("back", "to"),
    [("/classes/1/look/", "/classes/1/look/"), ("https://x.example/", ""), ("//x.example", "")],
)
def test_without_scripts_one_comes_back_to_the_page_one_left(piece, signed_in, back, to):
    url = reverse("evidence:piece-turn", args=[piece.token])

    answer = signed_in("family").post(url, {"turn": 90, "back": back})

    own = reverse("evidence:submission", args=[piece.submission.token])
    assert answer.url == (to or own)


def test_a_script_is_told_that_it_is_being_turned_and_then_that_it_was(piece, signed_in):
    client = signed_in("family")
    pressed = press(client, piece, headers={"HX-Request": "true"}).content.decode()
    assert "data-poll" in pressed
    assert 'name="turn" value="180"' in pressed

    jobs.turn(piece.pk)

    state = client.get(reverse("evidence:piece-state", args=[piece.token])).content.decode()
    assert "data-poll" not in state
    assert "thumb/?turn=90" in state


def test_a_page_offers_turning_until_the_look(piece, signed_in):
    page = reverse("evidence:submission", args=[piece.submission.token])
    turn = reverse("evidence:piece-turn", args=[piece.token])
    client = signed_in("family")
    assert turn in client.get(page).content.decode()

    type(piece.submission).objects.update(looked_at=timezone.now() - SEEN_BY_FAMILIES_AFTER)

    assert turn not in client.get(page).content.decode()


@pytest.mark.django_db(transaction=True)
def test_a_piece_taken_back_while_it_is_turned_never_comes_back(piece, monkeypatch):
    real = turning.rotate

    def rotate_slowly(*args: object):
        outcome = real(*args)
        withdraw(piece.submission)
        return outcome

    monkeypatch.setattr(turning, "rotate", rotate_slowly)
    ask(piece, 90)
    jobs.turn(piece.pk)
    jobs.sweep()

    assert not Rendition.objects.exists()
    assert files_in_store() == []
    assert not Piece.objects.ready().exists()


def test_turned_anew_while_it_is_turned_it_ends_as_was_asked_last(piece, monkeypatch):
    real = turning.rotate

    def rotate_slowly(*args: object):
        outcome = real(*args)
        ask(Piece.objects.get(pk=piece.pk), 180)
        return outcome

    with monkeypatch.context() as patched:
        patched.setattr(turning, "rotate", rotate_slowly)
        ask(piece, 90)
        jobs.turn(piece.pk)
    with freeze_time(timezone.now() + 2 * LEASE):
        jobs.turn(piece.pk)

    assert made.corners(shown(piece)) == ("white", "blue", "green", "red")
    assert len(files_in_store()) == 2


@pytest.mark.parametrize("fault", [TryLaterError("busy"), OSError(28, "No space left")])
def test_a_machine_in_trouble_leaves_the_picture_as_it_was_and_tries_again(
    piece, monkeypatch, fault
):
    def fail(*args: object) -> None:
        raise fault

    ask(piece, 90)
    with monkeypatch.context() as patched:
        patched.setattr(turning, "rotate", fail)
        jobs.turn(piece.pk)
    assert made.corners(shown(piece)) == made.UPRIGHT

    with freeze_time(timezone.now() + 2 * LEASE):
        jobs.turn(piece.pk)
    assert made.corners(shown(piece)) == ("blue", "red", "white", "green")


@pytest.mark.servers
@pytest.mark.django_db(transaction=True)
def test_of_many_workers_at_once_one_turns_the_piece(piece):
    ask(piece, 90)

    def claim(_worker: int) -> bool:
        try:
            return Piece.objects.claim_to_turn(piece.pk) is not None
        finally:
            connection.close()

    with ThreadPoolExecutor(at_once()) as workers:
        assert sum(workers.map(claim, range(16))) == 1


def test_a_picture_that_crashes_its_decoder_each_time_stays_as_it_was(piece, monkeypatch):
    def crash(*_arguments: object) -> None:
        raise CrashedError(RefusalReason.UNREADABLE, "killed")

    ask(piece, 90)
    monkeypatch.setattr(turning, "rotate", crash)
    for minute in range(MOST_CRASHES):
        with freeze_time(timezone.now() + dt.timedelta(minutes=minute)):
            jobs.turn(piece.pk)

    piece.refresh_from_db()
    assert (piece.turn, piece.state) == (0, "ready")
    assert made.corners(shown(piece)) == made.UPRIGHT


def test_the_sweep_sends_again_what_was_asked_while_the_broker_was_away(piece, monkeypatch):
    sent = []
    ask(piece, 90)
    monkeypatch.setattr(jobs, "send", lambda job, word, weight: sent.append(word) or True)

    jobs.sweep()

    assert sent == ["photos"]


def test_a_copy_that_cannot_be_turned_stays_as_it_is(piece, monkeypatch):
    monkeypatch.setattr(turning, "rotate", lambda *args: Refused(RefusalReason.UNREADABLE))

    ask(piece, 90)
    jobs.turn(piece.pk)

    piece.refresh_from_db()
    assert (piece.state, piece.turn, piece.leased_until) == ("ready", 0, None)


@pytest.mark.parametrize("harm", ["spoilt", "gone"])
def test_a_damaged_copy_is_not_turned_but_told_of(piece, harm):
    name = piece.renditions.get(role="display").name
    store.remove([name]) if harm == "gone" else spoil(name, jpeg("red"))

    ask(piece, 90)
    jobs.turn(piece.pk)

    piece.refresh_from_db()
    assert (piece.state, piece.refusal) == ("refused", "damaged")

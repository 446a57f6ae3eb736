"""Serving pieces: who may see them, asked at every request, and what a browser is told of them."""

import pytest
from django.urls import reverse
from django.utils import timezone

from evidence.models import Piece, Rendition
from evidence.storage import store
from portal.people.models import Event, Guardianship
from tests.evidence.builders import (
    jpeg,
    make_arrived_piece,
    make_ready_piece,
    make_submission,
    spoil,
)
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import Village

pytestmark = [pytest.mark.django_db, BOTH_STORES]


def address(piece: Piece, role: str = "display") -> str:
    return reverse("evidence:piece", args=[piece.token, role])


@pytest.fixture
def piece(village: Village) -> Piece:
    return make_ready_piece(make_submission(village), jpeg())


MAY_SEE = {
    "family": 200, "teacher": 200, "assistant": 200, "lead": 200, "visitor": 302,
    "second home": 404, "other family": 404, "other teacher": 404, "office": 404,
    "foreign lead": 404, "foreign family": 404,
}  # fmt: skip


@pytest.mark.parametrize("role", MAY_SEE)
def test_only_the_own_home_and_the_staff_of_the_class_see_a_piece(piece, signed_in, role):
    client = signed_in(role)

    assert client.get(address(piece)).status_code == MAY_SEE[role]
    assert client.get(address(piece, "thumb")).status_code == MAY_SEE[role]
    state = client.get(reverse("evidence:piece-state", args=[piece.token]))
    assert state.status_code == MAY_SEE[role]
    ranged = client.get(address(piece), headers={"range": "bytes=0-1"})
    assert ranged.status_code == {200: 206}.get(MAY_SEE[role], MAY_SEE[role])


def test_what_may_not_be_seen_looks_just_like_what_does_not_exist(piece, signed_in):
    client = signed_in("other family")

    def answer(url: str) -> tuple[int, str]:
        response = client.get(url)
        token = str(response.context["csrf_token"])
        return response.status_code, response.content.decode().replace(token, "")

    missing = reverse("evidence:piece", args=["A" * 32, "display"])
    assert answer(address(piece)) == answer(missing)


def test_an_adult_who_leaves_the_home_loses_the_next_range(village, piece, signed_in):
    client = signed_in("family")
    assert client.get(address(piece), headers={"range": "bytes=0-1"}).status_code == 206

    Guardianship.objects.filter(adult=village.people["family"]).update(ended_at=timezone.now())

    assert client.get(address(piece), headers={"range": "bytes=2-3"}).status_code == 404


def test_a_child_who_changes_class_is_seen_by_the_new_teacher_alone(village, piece, signed_in):
    village.aisha.school_class = village.wrens
    village.aisha.save()

    assert signed_in("teacher").get(address(piece)).status_code == 404
    assert signed_in("other teacher").get(address(piece)).status_code == 200


def test_a_piece_is_shown_as_what_it_is_and_can_do_nothing_else(piece, signed_in):
    response = signed_in("family").get(address(piece))

    assert response.headers["Content-Type"] == "image/jpeg"
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Content-Security-Policy"] == "sandbox"
    assert response.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert response.headers["Content-Disposition"] == 'inline; filename="piece.jpg"'
    assert response.headers["Cache-Control"] == "private, no-store"
    assert response.getvalue() == jpeg()


def test_another_site_cannot_embed_a_piece(piece, signed_in):
    response = signed_in("family").get(address(piece), headers={"sec-fetch-site": "cross-site"})

    assert response.status_code == 404


@pytest.mark.parametrize("page", ["2", "0", "x", "-1", "٣", "9" * 50, "1;"])
def test_a_page_that_is_not_there_is_not_found(piece, signed_in, page):
    assert signed_in("family").get(f"{address(piece)}?page={page}").status_code == 404


def test_the_original_cannot_be_had_by_anybody(village, signed_in):
    piece = make_arrived_piece(make_submission(village))

    for role in ("original", "display", "thumb", "clip"):
        for who in ("family", "teacher", "lead"):
            assert signed_in(who).get(address(piece, role)).status_code == 404


def test_a_piece_that_was_taken_back_is_gone_for_everybody(piece, signed_in):
    Piece.objects.update(withdrawn_at=timezone.now())

    assert signed_in("family").get(address(piece)).status_code == 404
    assert signed_in("teacher").get(address(piece)).status_code == 404


def test_a_piece_whose_file_is_gone_or_cut_is_not_found(piece, signed_in):
    name = Rendition.objects.get(role="display").name
    spoil(name, jpeg()[:-1])
    assert signed_in("family").get(address(piece)).status_code == 404

    store.remove([name])
    assert signed_in("family").get(address(piece)).status_code == 404


def test_no_address_leads_to_the_store(piece, signed_in):
    name = Rendition.objects.first().name

    for url in (f"/media/{name}", f"/{name}", f"/static/{name}", f"/pieces/{name}"):
        assert signed_in("teacher").get(url).status_code == 404


def test_the_state_of_a_piece_asks_again_until_it_is_final(village, signed_in):
    submission = make_submission(village)
    waiting, ready = make_arrived_piece(submission), make_ready_piece(submission, jpeg())
    refused = make_arrived_piece(submission, position=2)
    Piece.objects.filter(pk=refused.pk).update(state="refused", refusal="cut_short")
    client = signed_in("family")

    def part(piece: Piece) -> str:
        return client.get(reverse("evidence:piece-state", args=[piece.token])).content.decode()

    assert "data-poll" in part(waiting)
    assert "data-poll" not in part(ready)
    assert address(ready, "thumb") in part(ready)
    assert "data-poll" not in part(refused)
    assert "Part of this file is missing" in part(refused)


def test_one_range_of_a_clip_takes_few_queries(piece, signed_in, django_assert_max_num_queries):
    client = signed_in("family")
    client.get(address(piece))  # the first page of a session writes the session

    with django_assert_max_num_queries(6):
        client.get(address(piece), headers={"range": "bytes=0-1"})


def seen() -> list[tuple[int, int]]:
    events = Event.objects.filter(what=Event.What.MEDIA_SEEN)
    return list(events.values_list("who", "object_id"))


def test_it_is_written_down_which_member_of_staff_opened_a_piece(village, piece, signed_in):
    teacher = signed_in("teacher")

    teacher.get(address(piece, "thumb"))
    assert seen() == []
    teacher.get(address(piece))
    teacher.get(address(piece), headers={"range": "bytes=2-3"})

    assert seen() == [(village.people["teacher"].pk, piece.pk)]


def test_a_familys_own_looking_is_not_written_down(piece, signed_in):
    signed_in("family").get(address(piece))

    assert seen() == []

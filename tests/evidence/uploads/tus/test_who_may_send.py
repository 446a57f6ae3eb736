"""Who may begin an upload, who may go on with it, and until when."""

import datetime as dt

import pytest
from django.test import Client
from django.utils import timezone

from evidence.models import Piece, Submission, Upload
from evidence.storage.partial_files import PartialFile
from portal.people.accounts.sessions import BEGAN, SEEN
from portal.people.models import Guardianship, Home
from tasks.models import DayPlan
from tests.evidence.builders import jpeg, make_submission
from tests.evidence.uploads.tus.tus import START, ask, begin, head, metadata, patch, upload_at

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
ELSEWHERE = ("other family", "second home", "teacher", "lead", "foreign lead")
PHOTO = jpeg()


def status_of_begin(client: Client, child, **more) -> int:
    told = metadata(child, **more)
    return ask(client, "POST", START, Upload_Length="9", Upload_Metadata=told).status_code


@pytest.mark.parametrize("role", ELSEWHERE)
@pytest.mark.parametrize("method", ["HEAD", "PATCH", "DELETE"])
def test_somebody_else_finds_no_upload_where_a_familys_is(family, child, signed_in, role, method):
    address = begin(family, child, len(PHOTO))
    stranger = signed_in(role)

    there = ask(stranger, method, address, PHOTO, Upload_Offset="0")
    nowhere = ask(stranger, method, f"{START}{'x' * 32}/", PHOTO, Upload_Offset="0")

    assert there.status_code == nowhere.status_code == 404
    assert there.content == nowhere.content
    assert head(family, address).headers["Upload-Offset"] == "0"


def test_another_adult_of_the_same_home_may_go_on(village, family, child, signed_in):
    address = begin(family, child, len(PHOTO))
    Guardianship.objects.create(
        adult=village.people["other family"], child=child, home=village.first_home
    )

    assert patch(signed_in("other family"), address, 0, PHOTO).status_code == 204


@pytest.mark.parametrize("role", ["other family", "office", "foreign lead", "foreign family"])
def test_nobody_sends_for_a_child_they_are_not_at_home_with(child, signed_in, role):
    assert status_of_begin(signed_in(role), child) == 404


@pytest.mark.parametrize("role", ["family", "other family", "other teacher"])
def test_nobody_but_staff_of_the_class_posts_for_a_home(village, child, signed_in, role):
    assert status_of_begin(signed_in(role), child, home=str(village.first_home.pk)) == 404


def test_staff_post_only_for_a_home_of_the_child(village, child, signed_in):
    teacher = signed_in("teacher")

    assert status_of_begin(teacher, child, home=str(village.bens_home.pk)) == 404
    assert status_of_begin(teacher, child, home=str(village.second_home.pk)) == 201
    assert status_of_begin(teacher, child, home="none") == 201


def test_nothing_is_sent_for_a_day_that_is_not_out(family, child):
    DayPlan.objects.update(goes_out_at=None)

    assert status_of_begin(family, child) == 404


def test_nothing_is_added_to_what_another_home_sent(village, family, child):
    theirs = make_submission(village, home=village.second_home)

    assert status_of_begin(family, child, to=theirs.token) == 404


def test_a_visitor_cannot_begin_and_is_told_so_in_words(child):
    told = metadata(child)
    answer = ask(Client(), "POST", START, Upload_Length="9", Upload_Metadata=told)

    assert answer.status_code == 401
    assert "signed out" in answer.content.decode()


def run_out(client):
    """Let the time of the session of *client* be over."""
    session = client.session
    session[SEEN] = session[BEGAN] = int((timezone.now() - dt.timedelta(days=100)).timestamp())
    session.save()


@pytest.mark.parametrize("page_between", [False, True])
def test_an_upload_outlives_the_session_it_was_begun_in(family, child, page_between):
    address = begin(family, child, len(PHOTO))
    patch(family, address, 0, PHOTO[:300])
    run_out(family)
    if page_between:
        assert family.get("/sent/").status_code == 302

    assert head(family, address).headers["Upload-Offset"] == "300"
    assert patch(family, address, 300, PHOTO[300:]).status_code == 204
    assert Piece.objects.get().size == len(PHOTO)


@pytest.mark.parametrize("speaks", ["1.0.0", None])
@pytest.mark.parametrize(
    "verb", ["GET", "HEAD", "OPTIONS", "POST", "PUT", "PATCH", "DELETE", "TRACE"]
)
def test_nobody_who_is_not_signed_in_finds_anything_at_the_address_of_an_upload(
    family, child, verb, speaks
):
    address = begin(family, child, len(PHOTO))
    family.post("/sign-out/")
    for visitor in (Client(), family):
        there = ask(visitor, verb, address, Tus_Resumable=speaks)
        nowhere = ask(visitor, verb, "/send/uploads/no-such-upload/", Tus_Resumable=speaks)
        assert (there.status_code, nowhere.status_code) == (404, 404)
        assert there.content == nowhere.content
        assert "Upload-Offset" not in there.headers
    assert Upload.objects.get().is_open


def test_a_session_whose_time_is_over_neither_ends_the_upload_nor_wakes_up_again(family, child):
    address = begin(family, child, len(PHOTO))
    long_ago = int((timezone.now() - dt.timedelta(days=100)).timestamp())
    session = family.session
    session[SEEN] = session[BEGAN] = long_ago
    session.save()

    assert head(family, address).headers["Upload-Offset"] == "0"
    assert patch(family, address, 0, PHOTO).status_code == 204
    assert family.get("/sent/").status_code == 302
    assert family.session.get(SEEN) is None


def test_the_end_of_a_guardianship_ends_its_uploads_at_once(family, child):
    address = begin(family, child, len(PHOTO))
    patch(family, address, 0, PHOTO[:300])
    Guardianship.objects.filter(child=child).update(ended_at=timezone.now())

    assert head(family, address).status_code == 404
    assert patch(family, address, 300, PHOTO[300:]).status_code == 404
    assert not Submission.objects.exists()


def test_a_guardianship_that_ends_while_the_last_bytes_come_in_leaves_nothing(
    family, child, monkeypatch
):
    address = begin(family, child, len(PHOTO))

    def settle(self) -> None:
        Guardianship.objects.filter(child=child).update(ended_at=timezone.now())

    monkeypatch.setattr(PartialFile, "settle", settle)

    assert patch(family, address, 0, PHOTO).status_code == 404
    assert not Submission.objects.exists()
    assert upload_at(address).state == Upload.State.REFUSED


def test_a_leavers_uploads_end_with_the_account(village, family, child):
    address = begin(family, child, len(PHOTO))
    village.people["family"].is_active = False
    village.people["family"].save()

    assert head(family, address).status_code == 404


def test_a_child_that_moves_to_another_home_takes_no_upload_along(village, family, child):
    address = begin(family, child, len(PHOTO))
    new = Home.objects.create(school=village.school)
    Guardianship.objects.filter(child=child, home=village.first_home).update(home=new)

    assert head(family, address).status_code == 404


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_no_other_site_gets_a_browser_to_send(family, child, site):
    told = metadata(child)
    answer = ask(
        family, "POST", START, Upload_Length="9", Upload_Metadata=told, Sec_Fetch_Site=site
    )

    assert answer.status_code == 403
    assert not Upload.objects.exists()


def test_uploads_need_no_token_of_a_form(village, child):
    client = Client(enforce_csrf_checks=True)
    client.force_login(village.people["family"])

    assert patch(client, begin(client, child, len(PHOTO)), 0, PHOTO).status_code == 204


@pytest.mark.parametrize("path", [START, f"{START}x/"])
def test_no_page_of_another_origin_is_told_that_it_may_ask(family, path):
    answer = ask(family, "OPTIONS", path, Tus_Resumable=None, Origin="https://elsewhere.example")

    assert not [name for name in answer.headers if name.startswith("Access-Control")]

"""What a family is told before it sends, who has looked, whom a picture shows, and letting go."""

import re

import pytest
from django.urls import reverse
from django.utils import timezone

from evidence.models import Piece, Submission
from evidence.submissions.other_children import OthersShown, ShownChild
from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport, DataRequest, LegalHold, RetentionRule
from portal.operations import erasure_list
from portal.people.accounts.reauthentication import FRESH
from portal.people.models import Consent, Event, Guardianship, Purpose
from tests.assessment.builders import looked
from tests.evidence.builders import (
    files_in_store,
    jpeg,
    make_plan,
    make_ready_piece,
    make_submission,
    send_address,
    sent,
    upload,
)
from tests.reading_age import grade
from tests.tasks.builders import queries_of

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_erasures(settings, tmp_path):
    settings.ERASURES_FILE = tmp_path / "erasures.jsonl"


@pytest.fixture
def lead(signed_in):
    client = signed_in("lead")
    session = client.session
    session[FRESH] = int(timezone.now().timestamp())
    session.save()
    return client


@pytest.fixture
def piece(village) -> Piece:
    return make_ready_piece(make_submission(village))


def agree(village, *roles, given=True, purpose=Purpose.DISPLAY):
    """Have adults say yes for every child they are at home with."""
    for role in roles:
        for own in Guardianship.objects.filter(adult=village.people[role]):
            Consent.answer(own, purpose, given=given, wording=1)


def text_of(page: bytes, opening: str) -> str:
    """Return the plain words of the notice that begins with *opening*."""
    plain = re.sub(r"<[^>]+>", " ", page.decode())
    return " ".join(plain[plain.index(opening) :].split())


def test_before_the_first_time_a_family_reads_who_sees_it_how_long_and_how_to_delete(
    village, signed_in
):
    make_plan(village.robins)
    RetentionRule.objects.create(school=village.school, kind="work", days=40)
    family = signed_in("family")
    page = family.get(send_address(village.aisha)).content.decode()
    for words in ("Who sees it?", "How long?", "Until 40 days after the school year ends",
                  "is kept 1 year", "How do I delete it?"):  # fmt: skip
        assert words in page
    sent(family, village.aisha, upload(jpeg()))
    assert "Who sees it?" not in family.get(send_address(village.aisha)).content.decode()
    assert (
        "Who sees it?" in signed_in("second home").get(send_address(village.aisha)).content.decode()
    )


def test_a_child_of_nine_could_read_the_notice(village, signed_in):
    make_plan(village.robins)
    page = signed_in("family").get(send_address(village.aisha)).content
    notice = text_of(page, "Who sees it?").split("Read more")[0]
    assert 40 < len(notice.split()) < 80
    assert grade(notice) <= 5


def test_a_family_that_says_so_when_sending_has_its_pieces_marked(village, signed_in):
    make_plan(village.robins)
    submission = sent(signed_in("family"), village.aisha, upload(jpeg()), others="yes")
    assert OthersShown.objects.get().piece.submission == submission
    plain = sent(signed_in("second home"), village.aisha, upload(jpeg("red")), form_key="b" * 24)
    assert not OthersShown.objects.filter(piece__submission=plain).exists()


def test_the_same_picture_sent_for_a_sister_is_marked_with_it(village, signed_in):
    make_plan(village.robins)
    make_plan(village.wrens)
    sent(signed_in("family"), village.aisha, upload(jpeg()), others="yes", also=[village.cal.pk])
    assert Submission.objects.count() == 2
    assert OthersShown.objects.count() == 2


def test_a_family_marks_a_piece_later_and_takes_its_own_mark_back(village, signed_in, piece):
    family = signed_in("family")
    address = reverse("evidence:piece-shows-others", args=[piece.token])
    assert (
        "Shows another child."
        in family.post(address, {"shows": "yes"}, follow=True).content.decode()
    )
    family.post(address, {"shows": "no"})
    assert not OthersShown.objects.exists()


def test_a_family_cannot_take_away_what_staff_have_named(village, signed_in, piece):
    teacher = signed_in("teacher")
    address = reverse("evidence:piece-others", args=[piece.token])
    teacher.post(address, {"children": [village.ben.pk]})
    assert ShownChild.objects.get().child == village.ben
    signed_in("family").post(
        reverse("evidence:piece-shows-others", args=[piece.token]), {"shows": "no"}
    )
    assert ShownChild.objects.exists()
    page = signed_in("family").get(f"/sent/{piece.submission.token}/").content.decode()
    assert "Ben" not in page


def test_staff_name_who_is_in_it_put_it_right_and_take_it_back(village, signed_in, piece):
    teacher = signed_in("teacher")
    address = reverse("evidence:piece-others", args=[piece.token])
    assert "Ben T" in teacher.get(address).content.decode()
    teacher.post(address, {"children": [village.ben.pk], "strangers": "on"})
    assert ShownChild.objects.count() == 2
    page = teacher.get(address).content.decode()
    assert page.count("checked") == 3
    teacher.post(address, {"shows": "on"})
    assert OthersShown.objects.count() == 1
    assert not ShownChild.objects.exists()
    teacher.post(address, {})
    assert not OthersShown.objects.exists()
    assert Event.objects.filter(what=Event.What.OTHERS_NAMED).count() == 3


@pytest.mark.parametrize("child", ["aisha", "dot"])
def test_only_other_children_of_the_year_can_be_named(village, signed_in, piece, child):
    address = reverse("evidence:piece-others", args=[piece.token])
    told = {"children": [getattr(village, child).pk]}
    assert signed_in("teacher").post(address, told).status_code == 422
    assert not OthersShown.objects.exists()


def test_a_lead_sees_a_word_in_the_place_of_a_picture_that_stays_in_class(
    village, signed_in, piece
):
    for client, shows in ((signed_in("lead"), True), (signed_in("teacher"), True)):
        page = client.get(f"/look/{piece.submission.token}/").content.decode()
        assert (f"/pieces/{piece.token}/display/" in page) is shows
    signed_in("family").post(
        reverse("evidence:piece-shows-others", args=[piece.token]), {"shows": "yes"}
    )
    for client, shows in ((signed_in("lead"), False), (signed_in("teacher"), True)):
        page = client.get(f"/look/{piece.submission.token}/").content.decode()
        assert (f"/pieces/{piece.token}/display/" in page) is shows
        assert ("only the staff of the class open it" in page) is not shows
        page = client.get(f"/children/{village.aisha.pk}/").content.decode()
        assert (f"/pieces/{piece.token}/thumb/" in page) is shows


def test_it_is_shown_to_the_class_only_while_every_home_agrees(village, signed_in, piece):
    teacher = signed_in("teacher")
    teacher.post(
        reverse("evidence:piece-others", args=[piece.token]), {"children": [village.ben.pk]}
    )
    address = reverse("evidence:piece-in-class", args=[piece.token])
    assert teacher.get(address).status_code == 404
    agree(village, "family")
    assert teacher.get(address).status_code == 404  # Ben's home has not said yet
    agree(village, "other family")
    page = teacher.get(address)
    assert page.status_code == 200
    assert "Aisha" not in page.content.decode().split("<main")[1].split("</main")[0]
    agree(village, "second home", given=False)
    assert teacher.get(address).status_code == 404
    assert signed_in("family").get(address).status_code == 404


def test_a_family_sees_by_role_and_time_who_opened_each_piece(village, signed_in, piece):
    family = signed_in("family")
    address = f"/sent/{piece.submission.token}/looked/"
    assert "Nobody has opened it yet." in family.get(address).content.decode()
    b"".join(signed_in("teacher").get(f"/pieces/{piece.token}/display/").streaming_content)
    for page in (family.get(address), family.get(f"/children/{village.aisha.pk}/looked/")):
        told = page.content.decode()
        assert "Teacher: looked at it" in told
        assert "Nobody has opened it yet." not in told
        assert village.people["teacher"].name not in told.split("<main")[1].replace("Teacher:", "")


def test_a_family_is_told_when_a_lead_took_a_copy_of_everything(village, signed_in, lead, piece):
    lead.post(f"/children/{village.aisha.pk}/privacy/copy/")
    copy = DataExport.objects.get()
    make_copy(copy.pk)
    b"".join(lead.get(f"/copies/{copy.token}/file/").streaming_content)
    page = signed_in("family").get(f"/children/{village.aisha.pk}/looked/").content.decode()
    assert "Copies of all that is kept" in page
    assert "Lead:" in page


def test_a_home_is_not_told_of_looks_at_what_the_other_home_sent(village, signed_in, piece):
    b"".join(signed_in("teacher").get(f"/pieces/{piece.token}/display/").streaming_content)
    page = signed_in("second home").get(f"/children/{village.aisha.pk}/looked/").content.decode()
    assert "Teacher: looked" not in page


def test_a_lead_sees_by_name_who_opened_it(village, signed_in, lead, piece):
    b"".join(signed_in("assistant").get(f"/pieces/{piece.token}/display/").streaming_content)
    page = lead.get(f"/work/{piece.submission_id}/data/").content.decode()
    assert "<bdi>Assistant</bdi> (assistant)" in page


def test_more_work_makes_no_more_queries_for_who_has_looked(village, signed_in, piece):
    family = signed_in("family")
    address = f"/children/{village.aisha.pk}/looked/"
    few = queries_of(family, address)
    for _number in range(8):
        make_ready_piece(make_submission(village))
    assert queries_of(family, address) == few


def test_work_that_was_looked_at_can_be_asked_to_be_deleted_in_two_taps(
    village, signed_in, piece, lead
):
    work = piece.submission
    looked(work, village.people["teacher"])
    family = signed_in("family")
    assert "Ask the school to delete this" in family.get(f"/sent/{work.token}/").content.decode()
    for _press in range(2):
        family.post(f"/sent/{work.token}/ask-delete/")
    assert DataRequest.objects.get().work == work.pk
    assert f"/work/{work.pk}/data/" in lead.get("/school/privacy/").content.decode()


def test_a_lead_deletes_a_piece_of_work_and_no_backup_brings_it_back(village, lead, piece):
    work = piece.submission_id
    assert lead.post(f"/work/{work}/data/delete/").url == "/school/privacy/"
    assert not Submission.objects.filter(pk=work).exists()
    noted = {(each.model, each.pk) for each in erasure_list.read(erasure_list.path())}
    assert noted == {("evidence.submission", work)}
    assert Event.objects.filter(what=Event.What.DELETED).count() == 1


@pytest.mark.django_db(transaction=True)
def test_the_files_of_deleted_work_are_gone_when_the_page_says_so(village, lead, piece):
    assert files_in_store()
    lead.post(f"/work/{piece.submission_id}/data/delete/")
    assert [path for path in files_in_store() if path.suffix != ".jsonl"] == []


def test_held_work_is_not_deleted(village, lead, piece):
    address = f"/work/{piece.submission_id}/data/"
    lead.post(f"{address}hold/", {"hold": "place"})
    assert lead.post(f"{address}delete/").url == address
    assert Submission.objects.filter(pk=piece.submission_id).exists()
    lead.post(f"{address}hold/", {"hold": "end"})
    assert not LegalHold.objects.active().exists()
    lead.post(f"{address}delete/")
    assert not Submission.objects.filter(pk=piece.submission_id).exists()


def test_deleting_needs_a_fresh_sign_in(village, signed_in, piece):
    answer = signed_in("lead").post(f"/work/{piece.submission_id}/data/delete/")
    assert answer.url == "/sign-in/again/"
    assert Submission.objects.filter(pk=piece.submission_id).exists()

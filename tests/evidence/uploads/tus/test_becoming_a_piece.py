"""What becomes of an upload whose last byte has come: a piece, or words that say why not."""

import pytest
from django.urls import reverse
from django.utils import timezone

from evidence.media import LIMITS
from evidence.models import Piece, Submission, Upload
from evidence.storage import partial_files, store
from tests.evidence.builders import form, jpeg, make_plan, make_submission, send_address
from tests.evidence.builders import upload as chosen
from tests.evidence.uploads.tus.tus import (
    FORM_KEY,
    START,
    ask,
    begin,
    head,
    metadata,
    patch,
    sent_whole,
    upload_at,
)
from tests.village import MONDAY

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
RED, BLUE = jpeg("red"), jpeg("blue")


def words(*uploads: Upload, **more: object) -> dict[str, object]:
    """Return the form that follows *uploads*."""
    tokens = [upload.token for upload in uploads]
    return {**form(form_key=FORM_KEY, **more), "pieces": [], "uploads": tokens}


def looked_at() -> None:
    Submission.objects.update(looked_at=timezone.now())


def test_an_upload_becomes_a_piece_of_the_home_it_came_from(village, family, child, plan):
    upload = sent_whole(family, child, RED, turn="90")

    piece = upload.pieces.get()
    submission = piece.submission
    assert (piece.kind, piece.state, piece.turn, piece.size) == ("photo", "arrived", 90, len(RED))
    assert (submission.child, submission.home) == (child, village.first_home)
    assert (submission.sent_by, submission.day_plan) == (village.people["family"], plan)
    assert not submission.by_staff


def test_the_piece_waits_to_be_prepared_and_the_growing_file_is_gone(family, child):
    upload = sent_whole(family, child, RED)

    assert list(Piece.objects.unfinished()) == [upload.pieces.get()]
    assert [*partial_files.path_of("").iterdir()] == []


def test_uploads_of_one_form_are_pieces_of_one_submission_in_their_order(family, child):
    uploads = [sent_whole(family, child, photo) for photo in (RED, BLUE)]

    submission = Submission.objects.get()
    assert [*submission.pieces.all()] == [upload.pieces.get() for upload in uploads]
    assert [piece.position for piece in submission.pieces.all()] == [0, 1]


def test_the_same_photo_sent_twice_is_one_piece(family, child):
    uploads = [sent_whole(family, child, RED) for _ in range(2)]

    assert [upload.state for upload in uploads] == ["done", "done"]
    assert Piece.objects.count() == 1


def test_words_join_the_pieces_that_went_ahead(family, child):
    uploads = [sent_whole(family, child, photo) for photo in (RED, BLUE)]

    response = family.post(send_address(child), words(*uploads, note="Look!"), follow=True)

    submission = Submission.objects.get()
    assert submission.note == "Look!"
    assert "Saved: 2 pieces." in response.content.decode()
    assert response.redirect_chain == [(f"/sent/{submission.token}/", 302)]


def test_pieces_without_words_need_none(family, child):
    upload = sent_whole(family, child, RED)

    response = family.post(send_address(child), words(upload), follow=True)

    assert "Saved: 1 piece." in response.content.decode()
    assert Submission.objects.count() == 1


def test_nothing_is_called_saved_while_a_piece_is_on_its_way(family, child):
    done, address = sent_whole(family, child, RED), begin(family, child, len(BLUE))
    patch(family, address, 0, BLUE[:99])

    response = family.post(send_address(child), words(done, upload_at(address), note="Look!"))

    assert response.status_code == 503
    assert "Saved" not in response.content.decode()
    assert Submission.objects.get().note == ""


def test_what_arrives_after_a_look_goes_into_a_submission_of_its_own(family, child):
    first = sent_whole(family, child, RED)
    looked_at()

    second = sent_whole(family, child, BLUE)
    family.post(send_address(child), words(first, second, note="Both."))

    early, late = Submission.objects.order_by("pk")
    assert (first.pieces.get().submission, second.pieces.get().submission) == (early, late)
    assert (early.note, late.note) == ("", "Both.")


def test_an_upload_adds_to_a_submission_that_is_there(village, family, child):
    there = make_submission(village, note="First.")

    upload = sent_whole(family, child, RED, to=there.token)

    assert upload.pieces.get().submission == there
    address = reverse("evidence:send-more", args=[there.token])
    family.post(address, words(upload, note="And more."))
    there.refresh_from_db()
    assert there.note == "And more."


def test_siblings_who_worked_together_each_have_the_piece_and_the_note(village, family, child):
    make_plan(village.wrens)
    also = str(village.cal.pk)
    upload = sent_whole(family, child, RED, also=also)

    family.post(send_address(child), words(upload, note="Together.", also=[also]))

    mine, theirs = Submission.objects.order_by("pk")
    assert (mine.child, theirs.child) == (child, village.cal)
    assert (mine.note, theirs.note) == ("Together.", "Together.")
    pieces = [each.pieces.get() for each in (mine, theirs)]
    assert len({piece.original for piece in pieces}) == 2


def test_taking_back_for_one_sibling_leaves_the_other_the_file(village, family, child):
    make_plan(village.wrens)
    sent_whole(family, child, RED, also=str(village.cal.pk))
    mine, theirs = Submission.objects.order_by("pk")

    family.post(reverse("evidence:withdraw", args=[mine.token]))

    assert store.path_of(theirs.pieces.get().original).read_bytes() == RED


@pytest.mark.parametrize("other", ["ben", "dot"])
def test_a_child_of_another_family_is_no_sibling(village, family, child, other):
    stranger = getattr(village, other)

    sent_whole(family, child, RED, also=str(stranger.pk))

    assert [each.child for each in Submission.objects.all()] == [child]


def test_the_plain_form_knows_siblings_as_well(village, family, child):
    make_plan(village.wrens)
    page = family.get(send_address(child)).content.decode()
    assert "This is also for" in page

    data = form(chosen(RED), note="Together.", also=[str(village.cal.pk)])
    assert family.post(send_address(child), data).status_code == 302
    _mine, theirs = Submission.objects.order_by("pk")
    assert (theirs.child, theirs.note, theirs.pieces.count()) == (village.cal, "Together.", 1)
    assert family.post(send_address(child), data).status_code == 302
    assert Submission.objects.count() == 2


def test_answers_are_one_childs_alone(village, family, child, plan):
    make_plan(village.wrens)
    prompt = plan.tasks.get().prompts.first()
    data = form(also=[str(village.cal.pk)], **{f"answer-{prompt.pk}": "4"})

    assert family.post(send_address(child), data).status_code == 302
    assert [each.child for each in Submission.objects.all()] == [child]


def test_what_is_no_work_of_a_child_is_refused_after_its_first_bytes(family, child):
    address = begin(family, child, 1_000_000)

    answer = patch(family, address, 0, b"<html>" + b" " * 5_000)

    assert answer.status_code == 422
    assert "Send a photo, a video" in answer.content.decode()
    assert head(family, address).status_code == 410
    assert "Send a photo" in patch(family, address, 0, b"").content.decode()
    assert not Submission.objects.exists()
    assert [*partial_files.path_of("").iterdir()] == []


def test_what_is_no_work_of_a_child_is_refused_however_its_bytes_come(family, child):
    page = b"<html>" + b" " * 5_000
    address = begin(family, child, len(page))
    answers = [patch(family, address, at, page[at : at + 50]) for at in range(0, 4_150, 50)]

    assert {answer.status_code for answer in answers} == {204, 422, 410}
    assert not Submission.objects.exists()


@pytest.mark.parametrize(
    ("filetype", "most"),
    [
        ("image/jpeg", LIMITS.photo.bytes),
        ("audio/mp4", LIMITS.voice.bytes),
        ("application/pdf", LIMITS.page.bytes),
        ("video/mp4", LIMITS.clip.bytes),
        ("", LIMITS.clip.bytes),
    ],
)
def test_a_file_a_byte_too_large_is_refused_before_any_of_it_is_sent(family, child, filetype, most):
    told = metadata(child, filetype=filetype)

    def status(length: int) -> int:
        length = str(length)
        return ask(family, "POST", START, Upload_Length=length, Upload_Metadata=told).status_code

    assert (status(most), status(most + 1)) == (201, 413)


def test_a_photo_that_says_it_is_a_clip_is_still_too_large_for_a_photo(family, child):
    address = begin(family, child, LIMITS.photo.bytes + 1, filetype="video/mp4")

    answer = patch(family, address, 0, RED + bytes(5_000))

    assert answer.status_code == 413
    assert "too big" in answer.content.decode()


def test_names_of_files_are_never_kept(family, child):
    told = f"{metadata(child)},filename c2VjcmV0LmpwZw==,name c2VjcmV0"
    ask(family, "POST", START, Upload_Length="9", Upload_Metadata=told)

    upload = Upload.objects.get()
    assert "c2VjcmV0" not in upload.metadata
    assert upload.metadata == metadata(child)


def test_a_finished_upload_that_is_cancelled_is_taken_back(family, child):
    upload = sent_whole(family, child, RED)

    assert ask(family, "DELETE", f"{START}{upload.token}/").status_code == 204
    assert not Submission.objects.active().exists()
    assert Piece.objects.get().withdrawn_at


def test_what_was_looked_at_is_not_cancelled(family, child):
    upload = sent_whole(family, child, RED)
    looked_at()

    assert ask(family, "DELETE", f"{START}{upload.token}/").status_code == 409
    assert Submission.objects.active().exists()


@pytest.mark.parametrize("whose", ["first_home", None])
def test_staff_post_for_a_home_or_for_none_and_it_is_marked(village, child, signed_in, whose):
    home = getattr(village, whose) if whose else None
    teacher, chosen = signed_in("teacher"), str(home.pk) if home else "none"
    upload = sent_whole(teacher, child, RED, home=chosen)

    address = reverse("evidence:post", args=[child.pk, MONDAY])
    response = teacher.post(address, words(upload, note="On paper.", home=chosen))

    submission = Submission.objects.get()
    assert response.url == address
    assert (submission.home, submission.note, submission.by_staff) == (home, "On paper.", True)
    assert Submission.objects.from_home_of(village.people["family"]).exists() is bool(home)


def test_staff_who_post_twice_post_once(village, child, signed_in):
    teacher = signed_in("assistant")
    address = reverse("evidence:post", args=[child.pk, MONDAY])
    for _twice in range(2):
        data = form(form_key=FORM_KEY, note="On paper.", home="none")
        assert teacher.post(address, data).status_code == 302

    assert Submission.objects.count() == 1


def test_a_family_sees_what_staff_posted_for_it_and_that_they_did(
    village, family, child, signed_in
):
    home = str(village.first_home.pk)
    address = reverse("evidence:post", args=[child.pk, MONDAY])
    signed_in("teacher").post(address, form(note="On paper.", home=home))

    page = family.get(f"/sent/{Submission.objects.get().token}/").content.decode()
    assert "Posted by staff at school." in page

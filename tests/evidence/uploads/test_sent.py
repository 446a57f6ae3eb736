"""What was sent: the list, one submission, and taking it back."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from evidence.models import Answer, Piece, Submission
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER
from tasks.models import TaskPrompt
from tests.evidence.builders import (
    files_in_store,
    form,
    jpeg,
    make_arrived_piece,
    make_plan,
    make_ready_piece,
    make_submission,
    sent,
    upload,
)
from tests.evidence.storage.buckets import BOTH_STORES
from tests.village import MONDAY, Village

pytestmark = [pytest.mark.django_db, BOTH_STORES]


def page_of(submission: Submission, name: str = "submission") -> str:
    return reverse(f"evidence:{name}", args=[submission.token])


@pytest.fixture
def submission(village: Village) -> Submission:
    submission = make_submission(village, note="With spoons.", help="together")
    Answer.objects.create(submission=submission, prompt=TaskPrompt.objects.first(), text="seven")
    make_ready_piece(submission, jpeg())
    return submission


@pytest.fixture
def family(submission: Submission, signed_in):
    return signed_in("family")


def test_a_family_sees_all_it_sent_on_one_page(submission, family):
    page = family.get(page_of(submission)).content.decode()

    for shown in ("With spoons.", "we did it together", "seven"):
        assert shown in page
    assert reverse("evidence:piece", args=[submission.pieces.get().token, "thumb"]) in page


def test_without_scripts_a_page_with_unfinished_pieces_can_be_looked_at_again(submission, family):
    assert "Look again" not in family.get(page_of(submission)).content.decode()

    make_arrived_piece(submission, jpeg("red"))

    assert "Look again" in family.get(page_of(submission)).content.decode()


@pytest.mark.parametrize("role", ["second home", "other family", "teacher", "lead", "office"])
def test_nobody_outside_the_home_opens_change_or_takes_back_a_submission(
    submission, signed_in, role
):
    client = signed_in(role)
    piece = submission.pieces.get()

    assert client.get(page_of(submission)).status_code == 404
    assert client.get(page_of(submission, "send-more")).status_code == 404
    assert client.post(page_of(submission, "send-more"), form(note="Mine.")).status_code == 404
    assert client.post(page_of(submission, "withdraw")).status_code == 404
    assert client.post(reverse("evidence:piece-remove", args=[piece.token])).status_code == 404
    submission.refresh_from_db()
    assert (submission.note, submission.withdrawn_at) == ("With spoons.", None)


def test_each_home_of_a_child_lists_its_own_work_alone(village, submission, signed_in):
    other = make_submission(village, home=village.second_home)

    first = signed_in("family").get(reverse("evidence:sent")).content.decode()
    second = signed_in("second home").get(reverse("evidence:sent")).content.decode()

    assert (submission.token in first, other.token in first) == (True, False)
    assert (submission.token in second, other.token in second) == (False, True)


def test_the_newest_comes_first_and_twenty_make_a_page(village, submission, family):
    for number in range(21):
        make_submission(village, sent_at=timezone.now() + dt.timedelta(minutes=number + 1))
    latest = Submission.objects.first()

    page = family.get(reverse("evidence:sent")).content.decode()
    next_page = family.get(reverse("evidence:sent") + "?page=2").content.decode()

    assert page.index(latest.token) == min(
        page.find(each.token) for each in Submission.objects.all()[:20]
    )
    assert submission.token in next_page
    assert submission.token not in page


def test_an_empty_list_says_where_to_begin(village, signed_in):
    page = signed_in("second home").get(reverse("evidence:sent")).content.decode()

    assert "You have not sent anything yet." in page
    assert reverse("tasks:today") in page


def test_taking_a_submission_back_hides_it_and_deletes_its_files(
    submission, family, signed_in, django_capture_on_commit_callbacks
):
    make_arrived_piece(submission, jpeg("red"))
    with django_capture_on_commit_callbacks(execute=True):
        response = family.post(page_of(submission, "withdraw"))

    assert response.url == reverse("evidence:sent")
    assert family.get(page_of(submission)).status_code == 404
    assert submission.token not in family.get(reverse("evidence:sent")).content.decode()
    assert not Submission.objects.taught_by(
        signed_in("teacher").get("/healthz").wsgi_request.user
    ).active()
    assert files_in_store() == []


def test_taking_one_piece_back_leaves_the_rest(
    submission, family, django_capture_on_commit_callbacks
):
    kept, gone = submission.pieces.get(), make_ready_piece(submission, jpeg("red"), position=1)

    with django_capture_on_commit_callbacks(execute=True):
        response = family.post(reverse("evidence:piece-remove", args=[gone.token]))

    assert response.url == page_of(submission)
    assert list(submission.pieces.active()) == [kept]
    assert len(files_in_store()) == 2


def test_with_its_last_piece_a_submission_without_words_goes_too(village, signed_in):
    submission = make_submission(village)
    piece = make_ready_piece(submission, jpeg())

    response = signed_in("family").post(reverse("evidence:piece-remove", args=[piece.token]))

    assert response.url == reverse("evidence:sent")
    assert not Submission.objects.active().exists()


def test_what_was_looked_at_stays_as_it_is(submission, family):
    Submission.objects.update(looked_at=timezone.now() - SEEN_BY_FAMILIES_AFTER)
    piece = submission.pieces.get()

    answers = [
        family.get(page_of(submission, "send-more")),
        family.post(page_of(submission, "send-more"), form(upload(jpeg("red")))),
        family.post(page_of(submission, "withdraw")),
        family.post(reverse("evidence:piece-remove", args=[piece.token])),
    ]

    assert [answer.status_code for answer in answers] == [409] * 4
    assert "cannot be changed any more" in answers[1].content.decode()
    assert submission.pieces.active().count() == 1
    page = family.get(page_of(submission)).content.decode()
    assert "Take back" not in page
    assert "looked at" in page


def test_a_form_sent_again_after_the_look_changes_nothing(village, signed_in):
    make_plan(village.robins)
    family = signed_in("family")
    submission = sent(family, village.aisha, note="First.")
    Submission.objects.update(looked_at=timezone.now())

    response = family.post(
        reverse("evidence:send", args=[village.aisha.pk, MONDAY]), form(note="Second.")
    )

    assert response.status_code == 409
    submission.refresh_from_db()
    assert submission.note == "First."


def test_more_can_be_sent_and_words_put_right_until_the_look(submission, family):
    prompt = submission.answers.get().prompt
    page = family.get(page_of(submission, "send-more")).content.decode()
    assert 'value="seven"' in page
    assert "With spoons." in page

    response = family.post(
        page_of(submission, "send-more"),
        form(upload(jpeg("red")), note="With forks.", **{f"answer-{prompt.pk}": "8"}),
    )

    assert response.url == page_of(submission)
    submission.refresh_from_db()
    assert submission.note == "With forks."
    assert submission.pieces.count() == 2
    assert [each.text for each in submission.answers.all()] == ["8"]


def test_an_answer_that_was_emptied_is_taken_away(submission, family):
    family.post(page_of(submission, "send-more"), form(note="No answer after all."))

    assert not submission.answers.exists()


def test_a_family_cannot_write_what_is_the_teachers(submission, family):
    family.post(
        page_of(submission, "send-more"),
        form(note="Hello.", looked_at="2026-11-23", child="1", reply="Well done", sent_by="1"),
    )

    before = Submission.objects.get()
    assert before.looked_at is None
    assert before.child == submission.child


def test_both_pages_take_the_same_queries_for_one_piece_and_for_many(village, submission, family):
    def count(address: str) -> int:
        with CaptureQueriesContext(connection) as queries:
            assert family.get(address).status_code == 200
        return len(queries)

    family.get(reverse("evidence:sent"))  # the first page of a session writes the session
    few = count(page_of(submission)), count(reverse("evidence:sent"))
    for number in range(11):
        make_ready_piece(submission, jpeg(), position=number + 1)
        Answer.objects.get_or_create(
            submission=submission,
            prompt=TaskPrompt.objects.order_by("?").first(),
            defaults={"text": "2"},
        )
        make_ready_piece(make_submission(village), jpeg())

    assert (count(page_of(submission)), count(reverse("evidence:sent"))) == few
    assert max(few) <= 15


def test_state_cannot_be_changed_by_asking(submission, family):
    assert family.get(page_of(submission, "withdraw")).status_code == 405
    piece = submission.pieces.get()
    assert family.get(reverse("evidence:piece-remove", args=[piece.token])).status_code == 405
    assert Piece.objects.active().count() == 1

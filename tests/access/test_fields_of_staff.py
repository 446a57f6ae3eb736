"""What only staff may say is not said by a family that adds it to its own form."""

import pytest
from django.urls import reverse

from assessment.models import LeadMark, Look, Tag
from evidence.models import Submission
from tests.assessment.builders import goal
from tests.evidence.builders import make_plan, make_ready_piece, make_submission, send_address

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
OF_STAFF = {
    "looked_at": "2026-11-23T09:00:00Z",
    "withdrawn_at": "2026-11-23T09:00:00Z",
    "by_staff": "on",
    "state": "ready",
    "reply": "Well done",
    "next_step": "More",
    "words": "For the lead",
    "seen_version": "0",
    "version": "0",
    "sent_at": "2020-01-01T00:00:00Z",
    "token": "chosen-by-the-family-itself",
}


def columns(submission: Submission) -> dict[str, object]:
    """Return what a family has no say in, as it is stored."""
    names = ("child_id", "home_id", "looked_at", "withdrawn_at", "by_staff", "sent_at", "token")
    return Submission.objects.values(*names).get(pk=submission.pk)


def test_a_new_submission_keeps_nothing_of_what_staff_say(village, signed_in):
    make_plan(village.robins)
    typed = {
        **OF_STAFF,
        "form_key": "a" * 24,
        "note": "We counted spoons",
        "whole": "yes",
        "child": village.ben.pk,
        "home": village.bens_home.pk,
        f"goal-{goal().pk}": Tag.How.INDEPENDENTLY,
    }
    assert signed_in("family").post(send_address(village.aisha), typed).status_code == 302
    sent = Submission.objects.get()
    assert (sent.child, sent.home, sent.by_staff) == (village.aisha, village.first_home, False)
    assert (sent.looked_at, sent.withdrawn_at) == (None, None)
    assert sent.sent_at.year != 2020
    assert sent.token != OF_STAFF["token"]
    assert not Look.objects.exists()
    assert not Tag.objects.exists()


@pytest.mark.parametrize(
    "page", ["assessment:look", "assessment:mark", "assessment:undo", "assessment:take-back"]
)
def test_a_family_that_posts_to_the_pages_of_staff_changes_nothing(village, signed_in, page):
    submission = make_submission(village)
    make_ready_piece(submission)
    before = columns(submission)
    typed = {**OF_STAFF, f"goal-{goal().pk}": Tag.How.INDEPENDENTLY}
    answer = signed_in("family").post(reverse(page, args=[submission.token]), typed)
    assert answer.status_code == 404
    assert columns(submission) == before
    assert not Look.objects.exists()
    assert not Tag.objects.exists()
    assert not LeadMark.objects.exists()


def test_adding_more_to_it_changes_neither_child_nor_home_nor_time(village, signed_in):
    submission = make_submission(village)
    before = columns(submission)
    typed = {**OF_STAFF, "form_key": "a" * 24, "note": "One more word", "whole": "yes"}
    typed |= {"child": village.ben.pk, "home": village.second_home.pk}
    address = reverse("evidence:send-more", args=[submission.token])
    assert signed_in("family").post(address, typed).status_code == 302
    assert Submission.objects.get().note == "One more word"
    assert columns(submission) == before

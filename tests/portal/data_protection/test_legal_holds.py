"""A hold keeps what is there from going, and from summaries, and tells nobody why."""

import pytest
from django.db import IntegrityError, transaction

from assessment.insight.weeks import Week
from assessment.weekly.class_week import class_week
from evidence.models import Submission
from portal.data_protection.models import LegalHold
from portal.people.models import Child
from tests.evidence.builders import files_in_store, make_ready_piece, make_submission
from tests.village import MONDAY

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


@pytest.fixture
def held(village) -> Submission:
    submission = make_submission(village, sent_at="2026-11-23T16:00:00Z")
    make_ready_piece(submission)
    LegalHold.place(village.aisha, submission.pk, village.people["lead"])
    return submission


def test_what_is_held_cannot_be_taken_back_and_the_family_is_not_told_why(village, signed_in, held):
    family = signed_in("family")
    answer = family.post(f"/sent/{held.token}/withdraw/")
    assert answer.status_code == 409
    assert "hold" not in answer.content.decode().lower().replace("household", "")
    piece = held.pieces.get()
    assert family.post(f"/pieces/{piece.token}/remove/").status_code == 409
    held.refresh_from_db()
    assert held.withdrawn_at is None
    assert len(files_in_store()) == 2


def test_once_the_hold_is_ended_it_can_be_taken_back(village, signed_in, held):
    assert LegalHold.end(village.aisha, held.pk, village.people["lead"])
    assert signed_in("family").post(f"/sent/{held.token}/withdraw/").status_code == 302


def test_the_family_s_own_page_looks_as_it_always_does(village, signed_in, held):
    before = signed_in("family").get(f"/sent/{held.token}/").content.decode()
    assert "Take back" in before
    assert "hold" not in before.lower().replace("household", "").replace("holder", "")


def test_a_child_of_whom_something_is_held_is_in_no_roll_up(village, held):
    children = Child.objects.filter(school_class=village.robins)
    week = class_week(village.robins, children, Week.of(MONDAY))
    assert [each.child for each in week.silent] == [village.ben]
    assert week.sent == []
    LegalHold.end(village.aisha, held.pk, village.people["lead"])
    week = class_week(village.robins, children, Week.of(MONDAY))
    assert [child for child, _figures in week.sent] == [village.aisha]


def test_a_thing_is_held_once_and_again_after_the_end(village, held):
    lead = village.people["lead"]
    assert LegalHold.place(village.aisha, held.pk, lead) == LegalHold.objects.get()
    LegalHold.end(village.aisha, held.pk, lead)
    assert not LegalHold.end(village.aisha, held.pk, lead)
    LegalHold.place(village.aisha, held.pk, lead)
    assert LegalHold.objects.count() == 2
    with pytest.raises(IntegrityError), transaction.atomic():
        LegalHold.objects.create(child=village.aisha, work=held.pk)


@pytest.mark.parametrize(
    ("role", "sees"),
    [
        *(("lead", 1), ("teacher", 0), ("assistant", 0), ("office", 0), ("family", 0)),
        *(("foreign lead", 0),),
    ],
)
def test_only_the_lead_knows_of_holds(village, held, role, sees):
    assert LegalHold.objects.visible_to(village.people[role]).count() == sees

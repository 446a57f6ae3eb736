"""What a home agrees to counts as long as nobody at home with the child says no."""

import pytest
from django.db import DatabaseError, connection, transaction
from django.utils import timezone

from portal.people.families.models.consent import CannotChangeConsentError, consented
from portal.people.models import Consent, Guardianship, Purpose

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def say(village, role, given, purpose=Purpose.DISPLAY, child=None):
    """Have one of Aisha's adults answer."""
    child = child or village.aisha
    own = Guardianship.objects.get(adult=village.people[role], child=child)
    return Consent.answer(own, purpose, given=given, wording=1)


def counts(village, purpose=Purpose.DISPLAY, child=None):
    return (child or village.aisha) in consented(purpose)


def test_who_was_never_asked_has_not_agreed(village):
    assert not any(counts(village, purpose) for purpose in Purpose.asked())


def test_one_yes_and_nobody_against_counts(village):
    say(village, "family", True)
    assert counts(village)
    assert not counts(village, Purpose.FAMILIES)
    assert not counts(village, child=village.cal)


@pytest.mark.parametrize("order", [("family", "second home"), ("second home", "family")])
def test_one_home_cannot_agree_over_the_head_of_the_other(village, order):
    for role in order:
        say(village, role, role == "family")
    assert not counts(village)


def test_a_yes_taken_back_counts_no_more_and_given_again_counts_again(village):
    for given in (True, False, True):
        say(village, "family", given)
        assert counts(village) is given
    assert Consent.objects.count() == 3


def test_who_is_no_longer_at_home_with_the_child_neither_agrees_nor_refuses(village):
    say(village, "family", True)
    say(village, "second home", False)
    Guardianship.objects.filter(adult=village.people["second home"]).update(ended_at=timezone.now())
    assert counts(village)
    Guardianship.objects.filter(adult=village.people["family"]).update(ended_at=timezone.now())
    assert not counts(village)


def test_a_refusal_on_paper_counts_as_long_as_the_child_lives_there(village):
    say(village, "family", True)
    paper = {"given": False, "wording": 1, "by": village.people["lead"]}
    Consent.answer_on_paper(village.aisha, village.second_home, Purpose.DISPLAY, **paper)
    assert not counts(village)
    village.second_home.children.remove(village.aisha)
    assert counts(village)


def test_an_answer_is_never_changed(village):
    answer = say(village, "family", True)
    answer.given = False
    with pytest.raises(CannotChangeConsentError):
        answer.save()
    with pytest.raises(CannotChangeConsentError):
        Consent.objects.update(given=False)
    with (
        pytest.raises(DatabaseError),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute("UPDATE people_consent SET given = NOT given")


def test_teaching_is_never_asked_about(village):
    assert Purpose.TEACHING not in Purpose.asked()
    with pytest.raises(DatabaseError), transaction.atomic():
        say(village, "family", True, Purpose.TEACHING)


@pytest.mark.parametrize(
    ("role", "seen"),
    [
        *(("family", 1), ("second home", 1), ("other family", 0), ("teacher", 2), ("lead", 2)),
        *(("other teacher", 0), ("office", 0), ("foreign lead", 0)),
    ],
)
def test_each_home_reads_its_own_answers_and_staff_those_of_their_class(village, role, seen):
    say(village, "family", True)
    say(village, "second home", True)
    assert Consent.objects.visible_to(village.people[role]).count() == seen


def test_an_account_can_go_and_the_answer_stays(village):
    say(village, "family", True)
    village.people["family"].delete()
    assert Consent.objects.get().adult is None

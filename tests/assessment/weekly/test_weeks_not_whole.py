"""A week of which something cannot be read is told without that, and its mails go all the same."""

import pytest
from django.core import mail
from django.utils import timezone
from freezegun import freeze_time

from assessment.insight.weeks import Week
from assessment.jobs import make_due_summaries
from assessment.models import MistakesFound, WeekSummary
from assessment.weekly.class_week import class_week, in_words
from assessment.weekly.plain_text import as_text
from evidence.models import Submission
from portal.operations.checks.work import check_figures
from portal.people.models import Child
from tasks.models import Task, TaskPrompt
from tests.assessment.builders import looked, send, set_day

pytestmark = pytest.mark.django_db
WEEK = Week(2026, 48)
FRIDAY_EVENING = "2026-11-27 20:00"
SENTENCE = "1 thing from this week can no longer be read and is left out here"


def told(village, signed_in) -> str:
    """Return the page of the week as its teacher reads it."""
    address = f"/classes/{village.robins.pk}/weeks/{WEEK}/"
    return signed_in("teacher").get(address).content.decode()


def badly() -> dict[str, str]:
    """Return what the doctor finds stuck, by what it is about."""
    return {line.about: line.words for line in check_figures() if line.level == "bad"}


def two_pieces(village) -> tuple[Submission, Submission]:
    """Send work with mistakes from two homes for one day."""
    plan = set_day(village.robins)
    return (
        send(village.aisha, village.first_home, plan, answers="doubled", help="alone"),
        send(village.ben, village.bens_home, plan, answers="doubled", help="alone"),
    )


@freeze_time(FRIDAY_EVENING)
def test_a_mistake_whose_name_is_gone_is_left_out_and_everybody_gets_their_mail(village, signed_in):
    aishas, _bens = two_pieces(village)
    family = village.people["family"]
    family.email_confirmed_at = timezone.now()
    family.save()
    village.first_home.wants_mail = True
    village.first_home.save()
    look = looked(aishas, village.people["teacher"])
    MistakesFound.objects.create(
        submission=aishas,
        looked_at=look.submission.looked_at,
        tasks=[["halving", ["took the moon"], ["took the moon"]]],
    )
    make_due_summaries()
    assert "teacher@example.org" in addressed()
    assert "family@example.org" in addressed()
    page = told(village, signed_in)
    assert SENTENCE in page
    assert "took the moon" not in page
    assert "Said double instead of half" in page
    assert "weeks not whole" in badly()
    assert "weeks late" not in badly()


def addressed() -> set[str]:
    """Return everybody to whom a mail went."""
    return {address for each in mail.outbox for address in each.to}


@freeze_time(FRIDAY_EVENING)
def test_a_row_that_cannot_be_read_takes_none_of_the_class_with_it(village, signed_in):
    aishas, bens = two_pieces(village)
    for answer in bens.answers.all():
        own = TaskPrompt.objects.get(pk=answer.prompt_id)
        own.pk, own.position = None, own.position + 100
        own.data = {}
        own.save()
        answer.prompt = own
        answer.save()
    make_due_summaries()
    assert "teacher@example.org" in addressed()
    page = told(village, signed_in)
    assert SENTENCE in page
    whole = class_week(village.robins, Child.objects.filter(school_class=village.robins), WEEK)
    assert [(one.sentence, one.children) for one in whole.mistakes] == [
        ("Said double instead of half", [aishas.child])
    ]
    assert {child for child, _one in whole.sent} == {village.aisha, village.ben}
    assert "Left out\n  1 that could not be read" in as_text(whole)
    assert "weeks not whole" in badly()


@freeze_time(FRIDAY_EVENING)
def test_a_kind_that_is_gone_borrows_no_words_for_its_mistakes_from_another(village):
    two_pieces(village)
    Task.objects.update(kind="moons-and-stars")
    whole = class_week(village.robins, Child.objects.filter(school_class=village.robins), WEEK)
    assert whole.mistakes == []
    assert whole.left_out == 1


def test_a_mistake_kept_without_its_kind_is_said_only_where_all_kinds_agree():
    assert in_words({"doubled": 3}) == [("Said double instead of half", 3)]
    assert in_words({"took away": 3, "halving/took away": 1}) == []
    assert in_words({"adding/took away": 3}) == [("Took away instead of adding", 3)]
    assert in_words({"halving/one too few": 2}) == [("Gave one too few", 2)]


@freeze_time(FRIDAY_EVENING)
def test_a_week_that_is_whole_says_nothing_of_it(village, signed_in):
    two_pieces(village)
    make_due_summaries()
    assert "left out here" not in told(village, signed_in)
    assert badly() == {}


@freeze_time(FRIDAY_EVENING)
def test_the_doctor_says_when_the_week_of_a_class_is_late(village):
    assert "weeks late" in badly()
    make_due_summaries()
    assert WeekSummary.objects.filter(audience="staff").exists()
    assert "weeks late" not in badly()

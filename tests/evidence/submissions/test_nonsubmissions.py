"""'We could not do it today': an honest answer, without blame, that counts as heard from."""

import datetime as dt

import pytest
from django.urls import reverse
from freezegun import freeze_time

from assessment.insight.taking_part import Part
from assessment.insight.weeks import Week
from assessment.models import Tag, WeekSummary
from assessment.progress.not_heard_from import not_heard_from_in
from assessment.progress.participation import weeks_of
from assessment.weekly.class_week import class_week
from assessment.weekly.summaries import make_summary
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.models import Child
from tests.evidence.builders import make_plan, make_submission
from tests.reading_age import grade
from tests.tasks.builders import queries_of
from tests.village import MONDAY, Village

WEEK = Week.of(MONDAY)


@pytest.fixture(autouse=True)
def monday_evening():
    """Let it be Monday, five in the afternoon."""
    with freeze_time("2026-11-23 17:00"):
        yield


@pytest.fixture(autouse=True)
def day_set(village: Village, monday_evening: None):
    """Let work be set for Robins."""
    return make_plan(village.robins)


def say(client, village: Village, child: str = "aisha", **more: str):
    """Press the button of the card."""
    name = "evidence:could-not-undo" if more.pop("undo", "") else "evidence:could-not"
    return client.post(reverse(name, args=[getattr(village, child).pk, MONDAY]), more)


def card(client, village: Village) -> str:
    return client.get(reverse("tasks:card", args=[village.aisha.pk, MONDAY])).content.decode()


def class_page(client, village: Village, name: str = "assessment:queue") -> str:
    return client.get(reverse(name, args=[village.robins.pk])).content.decode()


def test_one_press_on_the_card_says_it_and_the_card_says_that_it_is_fine(village, signed_in):
    family = signed_in("family")
    assert "We could not do it today" in card(family, village)

    response = say(family, village)

    assert response.status_code == 302
    page = card(family, village)
    assert "That is fine" in page
    assert "We could not do it today" not in page
    assert Nonsubmission.objects.get().said_by == village.people["family"]


def test_pressed_twice_it_is_said_once(village, signed_in):
    family = signed_in("family")
    say(family, village)
    say(family, village)
    assert Nonsubmission.objects.count() == 1


def test_nobody_has_to_say_why_but_may(village, signed_in):
    family = signed_in("family")
    say(family, village)
    assert Nonsubmission.objects.get().reason == ""
    say(family, village, reason="Ill since lunch")
    assert Nonsubmission.objects.get().reason == "Ill since lunch"
    assert 'value="Ill since lunch"' in card(family, village)
    say(family, village, reason="x" * 201)
    assert Nonsubmission.objects.get().reason == "Ill since lunch"


def test_it_can_be_taken_back_and_nothing_of_it_stays(village, signed_in):
    family = signed_in("family")
    say(family, village, reason="Ill")
    say(family, village, undo="yes")
    assert not Nonsubmission.objects.exists()
    assert "We could not do it today" in card(family, village)


def test_one_home_is_not_told_what_the_other_said(village, signed_in):
    say(signed_in("family"), village, reason="Ill since lunch")
    other = signed_in("second home")
    page = card(other, village)
    assert "Ill since lunch" not in page
    assert "We could not do it today" in page
    say(other, village, undo="yes")
    assert Nonsubmission.objects.count() == 1


def test_a_home_that_sent_work_is_not_asked_and_work_overtakes_what_was_said(village, signed_in):
    family = signed_in("family")
    say(family, village)
    make_submission(village)
    assert not Nonsubmission.objects.active().exists()
    page = card(family, village)
    assert "We could not do it today" not in page
    assert "That is fine" not in page


def test_the_teacher_reads_it_above_the_list_of_work_with_the_reason(village, signed_in):
    say(signed_in("family"), village, reason="Ill since lunch")
    page = class_page(signed_in("teacher"), village)
    assert "1 home said this week that it could not be done" in page
    assert "Ill since lunch" in page
    with freeze_time("2026-12-02 17:00"):
        assert "Ill since lunch" not in class_page(signed_in("teacher"), village)


def test_a_home_that_says_so_is_heard_from(village, signed_in):
    make_plan(village.robins, MONDAY + dt.timedelta(days=1))
    say(signed_in("family"), village)
    with freeze_time("2026-11-25 09:00"):
        silence = not_heard_from_in(village.robins, village.people["teacher"], 1).silent
    assert [(each.child, each.days) for each in silence] == [
        (village.ben, 2),
        (village.aisha, 1),  # Tuesday: counted from what was said.
    ]


def test_the_class_week_counts_the_child_as_heard_from_and_not_as_having_sent(village, signed_in):
    say(signed_in("family"), village, reason="Ill since lunch")
    children = Child.objects.filter(school_class=village.robins)
    with freeze_time("2026-11-24 17:00"):
        whole = class_week(village.robins, children, WEEK)
        address = reverse("assessment:class-week", args=[village.robins.pk, WEEK])
        page = signed_in("teacher").get(address).content.decode()
        (week,) = weeks_of(village.robins, village.people["teacher"])
    assert (whole.figures.heard, whole.figures.pieces, whole.figures.sent_days) == (1, 0, 0)
    assert [child for child, _said in whole.told] == [village.aisha]
    assert [one.child for one in whole.silent] == [village.ben]
    assert whole.sent == []
    assert 'aria-label="could not"' in page
    assert "Ill since lunch" in page
    assert week.days[0].counts == [(Part.COULD_NOT, 1), (Part.SILENT, 1)]


def test_it_is_no_evidence_and_no_work_to_look_at(village, signed_in):
    say(signed_in("family"), village)
    assert not Submission.objects.exists()
    assert not Tag.objects.exists()
    page = class_page(signed_in("teacher"), village)
    assert "Nothing waits." in page
    make_summary(village.robins.pk, WEEK)
    row = WeekSummary.objects.get(audience="staff")
    assert (row.figures["heard"], row.figures["goals"]) == (1, {})


def test_the_familys_week_says_it_kindly(village, signed_in):
    family = signed_in("family")
    say(family, village)
    page = family.get(reverse("assessment:week", args=[WEEK])).content.decode()
    assert "You told the teacher that it could not be done. That is fine." in page
    other = signed_in("second home").get(reverse("assessment:week", args=[WEEK]))
    assert "You told the teacher" not in other.content.decode()


def test_its_words_are_easy_to_read():
    words = (
        "You said that it could not be done. That is fine. There is nothing to make up for. "
        "That is an honest answer. One press, and the teacher knows. Why, if you like. "
        "You told the teacher that it could not be done. That is fine."
    )
    assert grade(words) <= 5


def test_the_list_of_work_asks_no_more_of_the_database_the_more_homes_say_it(village, signed_in):
    teacher = signed_in("teacher")
    address = reverse("assessment:queue", args=[village.robins.pk])
    say(signed_in("family"), village)
    first = queries_of(teacher, address)
    say(signed_in("second home"), village)
    say(signed_in("other family"), village, child="ben")
    assert queries_of(teacher, address) == first


def test_a_day_that_did_not_go_out_cannot_be_answered(village, signed_in):
    tuesday = MONDAY + dt.timedelta(days=1)
    response = signed_in("family").post(
        reverse("evidence:could-not", args=[village.aisha.pk, tuesday])
    )
    assert response.status_code == 404

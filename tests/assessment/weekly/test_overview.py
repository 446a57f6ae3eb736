"""The week at a glance, as a family reads it."""

import datetime as dt

import pytest
from django.urls import reverse
from freezegun import freeze_time

from assessment.insight.weeks import Week
from assessment.weekly.family_week import family_weeks
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.models import Child, Closure
from tests.assessment.builders import looked, send, set_day
from tests.tasks.builders import queries_of
from tests.village import MONDAY, Village

WEEK = Week.of(MONDAY)


def day(number: int) -> dt.date:
    """Return a day of the village's week, Monday being 0."""
    return MONDAY + dt.timedelta(days=number)


@pytest.fixture(autouse=True)
def wednesday_evening():
    """Let it be Wednesday, six in the evening."""
    with freeze_time("2026-11-25 18:00"):
        yield


def states(village: Village, role: str = "family", week: Week = WEEK) -> list[str]:
    """Return how far each day of Aisha's week is, as *role* reads it."""
    user = village.people[role]
    own = Submission.objects.from_home_of(user)
    said = Nonsubmission.objects.from_home_of(user)
    (found,) = family_weeks([Child.objects.get(pk=village.aisha.pk)], own, week, said)
    return [each.state for each in found.glance]


def test_each_day_says_whether_it_is_set_sent_answered_or_still_to_come(village, signed_in):
    monday, tuesday, _wednesday = (set_day(village.robins, day(number)) for number in range(3))
    looked(send(village.aisha, village.first_home, monday), village.people["teacher"])
    send(village.aisha, village.first_home, tuesday)

    assert states(village) == ["answered", "sent", "set", "to come", "to come"]
    assert states(village, "second home") == ["set", "set", "set", "to come", "to come"]
    page = signed_in("family").get(reverse("assessment:week", args=[WEEK])).content.decode()
    for words in ("Sent, and the teacher has looked", "Work is set", "Nothing is set yet"):
        assert words in page


def test_a_day_that_could_not_be_done_and_a_day_without_work_say_so(village):
    plan = set_day(village.robins, day(0))
    Nonsubmission.objects.create(child=village.aisha, home=village.first_home, day_plan=plan)

    assert states(village)[:3] == ["told", "none", "to come"]


def test_a_holiday_is_said_by_its_name(village, signed_in):
    Closure.objects.create(school=village.school, name="Snow day", first=day(3), last=day(6))

    assert states(village) == ["none", "none", "to come", "closed", "closed"]
    page = signed_in("family").get(reverse("assessment:week", args=[WEEK])).content.decode()
    assert page.count("School is closed: Snow day.") == 4  # Two days, for Aisha and for Cal.


def test_work_that_is_not_out_yet_is_not_told_of(village):
    set_day(village.robins, day(3))

    assert states(village)[3] == "to come"


def test_a_family_can_look_one_week_ahead_and_no_further(village, signed_in):
    family = signed_in("family")
    after = reverse("assessment:week", args=[WEEK.shifted(1)])
    assert after in family.get(reverse("assessment:week", args=[WEEK])).content.decode()
    page = family.get(after).content.decode()
    assert reverse("assessment:week", args=[WEEK.shifted(2)]) not in page


def test_the_page_asks_no_more_of_the_database_the_more_there_is(village, signed_in):
    family = signed_in("family")
    week = reverse("assessment:week", args=[WEEK])
    looked(send(village.aisha, village.first_home, set_day(village.robins)),
           village.people["teacher"])  # fmt: skip
    before = queries_of(family, week)
    for number in (1, 2):
        plan = set_day(village.robins, day(number))
        looked(send(village.aisha, village.first_home, plan), village.people["teacher"])
    Closure.objects.create(school=village.school, name="Snow day", first=day(3), last=day(3))

    assert queries_of(family, week) == before

"""The week at a glance and all replies on one page, as a family reads them."""

import datetime as dt

import pytest
from django.urls import reverse
from freezegun import freeze_time

from assessment.insight.weeks import Week
from assessment.looks.looking import undo_look
from assessment.models import VoiceReply
from assessment.weekly.family_week import family_weeks
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.models import Child, Closure
from tests.assessment.builders import looked, send, set_day
from tests.tasks.builders import queries_of
from tests.village import MONDAY, Village

WEEK = Week.of(MONDAY)
REPLIES = "/replies/"


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


def test_all_replies_stand_on_one_page_newest_first_with_the_voice(village, signed_in):
    first, second = (
        send(village.aisha, village.first_home, set_day(village.robins, day(number)))
        for number in (0, 1)
    )
    with freeze_time("2026-11-24 18:00"):
        looked(first, village.people["teacher"], reply="Fair shares on Monday")
    looked(second, village.people["teacher"], reply="Fair shares on Tuesday")
    voice = VoiceReply.objects.create(
        submission=second,
        spoken_by=village.people["teacher"],
        state="ready",
        media_type="audio/mp4",
        name="voice",
        sha256="0" * 64,
        size=1,
    )
    page = signed_in("family").get(REPLIES).content.decode()

    assert page.index("Fair shares on Tuesday") < page.index("Fair shares on Monday")
    assert reverse("assessment:voice", args=[voice.token]) in page
    assert reverse("evidence:submission", args=[first.token]) in page


def test_no_home_reads_the_replies_to_another(village, signed_in):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"], reply="Fair shares on Monday")

    for role in ("second home", "other family", "teacher"):
        assert "Fair shares" not in signed_in(role).get(REPLIES).content.decode()
    assert "No reply has come yet." in signed_in("second home").get(REPLIES).content.decode()


def test_a_reply_that_was_taken_back_is_not_there(village, signed_in):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    look = looked(work, village.people["teacher"], reply="Fair shares on Monday")
    undo_look(Submission.objects.get(pk=work.pk), look.version)

    assert "Fair shares" not in signed_in("family").get(REPLIES).content.decode()


def test_the_replies_of_one_child_can_be_read_alone(village, signed_in):
    looked(send(village.aisha, village.first_home, set_day(village.robins)),
           village.people["teacher"], reply="Fair shares, Aisha")  # fmt: skip
    looked(send(village.cal, village.first_home, set_day(village.wrens)),
           village.people["other teacher"], reply="Well counted, Cal")  # fmt: skip
    family = signed_in("family")

    both = family.get(REPLIES).content.decode()
    alone = family.get(reverse("assessment:child-replies", args=[village.cal.pk])).content.decode()

    assert "Fair shares, Aisha" in both
    assert "Well counted, Cal" in both
    assert "Fair shares, Aisha" not in alone
    assert "Well counted, Cal" in alone


def test_neither_page_asks_more_of_the_database_the_more_there_is(village, signed_in):
    family = signed_in("family")
    week = reverse("assessment:week", args=[WEEK])
    looked(send(village.aisha, village.first_home, set_day(village.robins)),
           village.people["teacher"])  # fmt: skip
    before = queries_of(family, week), queries_of(family, REPLIES)
    for number in (1, 2):
        plan = set_day(village.robins, day(number))
        looked(send(village.aisha, village.first_home, plan), village.people["teacher"])
    Closure.objects.create(school=village.school, name="Snow day", first=day(3), last=day(3))

    assert (queries_of(family, week), queries_of(family, REPLIES)) == before

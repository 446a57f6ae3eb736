"""The week summed up: when it is due, and that it happens once."""

import datetime as dt
import logging

import pytest
from django.db import IntegrityError, transaction
from freezegun import freeze_time

from assessment.insight.weeks import Week
from assessment.jobs import make_due_summaries
from assessment.models import SummaryMail, WeekSummary
from assessment.weekly import summaries
from assessment.weekly.summaries import make_due, make_summary
from portal.people.models import Closure, Home, School, User
from tests.assessment.builders import looked, send, set_day
from tests.village import MONDAY

WEEK = Week(2026, 48)
FRIDAY_1530 = dt.datetime(2026, 11, 27, 15, 30, tzinfo=dt.UTC)
A_MINUTE = dt.timedelta(minutes=1)


@pytest.fixture
def friday(village):
    """Set a day in Robins, with work from Aisha's first home, and stop the clock on Friday."""
    with freeze_time(FRIDAY_1530):
        User.objects.update(email_confirmed_at=FRIDAY_1530)
        send(village.aisha, village.first_home, set_day(village.robins), answers="doubled")
        yield village


def weeks_made(school_class):
    """Give the Mondays of the weeks summed up for a class."""
    staff = WeekSummary.objects.filter(audience="staff", school_class=school_class)
    return sorted(staff.values_list("week", flat=True))


def test_nothing_is_made_before_half_past_three_on_friday(friday):
    make_due(FRIDAY_1530 - A_MINUTE)
    assert weeks_made(friday.robins) == [MONDAY - dt.timedelta(days=7)]


def test_at_half_past_three_the_week_is_made(friday):
    make_due(FRIDAY_1530)
    assert weeks_made(friday.robins) == [MONDAY]


def test_there_is_one_for_the_staff_and_one_for_each_child_and_home(friday):
    make_due(FRIDAY_1530)
    family = WeekSummary.objects.filter(audience="family", school_class=friday.robins)
    assert sorted(family.values_list("child", "home")) == sorted(
        [
            (friday.aisha.pk, friday.first_home.pk),
            (friday.aisha.pk, friday.second_home.pk),
            (friday.ben.pk, friday.bens_home.pk),
        ]
    )
    sent = {row.home_id: row.figures["pieces"] for row in family}
    assert sent[friday.first_home.pk] == 1
    assert sent[friday.second_home.pk] == 0


def test_a_familys_figures_hold_no_goals_and_no_mistakes(friday):
    looked(friday.aisha.submissions.get(), friday.people["teacher"], how="not yet")
    make_due(FRIDAY_1530)
    rows = WeekSummary.objects.filter(audience="family")
    assert {tuple(row.figures) for row in rows} == {("set_days", "sent_days", "pieces")}


def test_the_kept_figures_name_no_child(friday):
    make_due(FRIDAY_1530)
    staff = WeekSummary.objects.get(audience="staff", school_class=friday.robins)
    assert staff.figures["heard"] == 1
    assert staff.figures["not_heard"] == [friday.ben.pk]
    assert "Aisha" not in str(staff.figures)


def test_running_it_twice_makes_nothing_twice(friday):
    make_due(FRIDAY_1530)
    before = (WeekSummary.objects.count(), SummaryMail.objects.count())
    assert make_due(FRIDAY_1530 + A_MINUTE) == 0
    assert not make_summary(friday.robins.pk, WEEK)
    assert (WeekSummary.objects.count(), SummaryMail.objects.count()) == before


def test_the_database_itself_refuses_a_second_one(friday):
    make_due(FRIDAY_1530)
    for row in WeekSummary.objects.all():
        row.pk = None
        with pytest.raises(IntegrityError), transaction.atomic():
            row.save()


def test_a_run_that_broke_off_leaves_nothing_half_made(friday, monkeypatch):
    with monkeypatch.context() as broken:
        broken.setattr(summaries, "family_mails", lambda rows: 1 / 0)
        assert make_due(FRIDAY_1530) == 0
    assert not WeekSummary.objects.exists()
    make_due(FRIDAY_1530)
    assert weeks_made(friday.robins) == [MONDAY]


def test_a_class_that_fails_does_not_keep_the_others_waiting_and_its_data_stays_out_of_the_log(
    friday, monkeypatch, caplog
):
    whole = summaries.class_week

    def fails_for_robins(school_class, *rest):
        if school_class == friday.robins:
            raise ValueError("Aisha K answered 16")
        return whole(school_class, *rest)

    monkeypatch.setattr(summaries, "class_week", fails_for_robins)
    with caplog.at_level(logging.INFO):
        make_due(FRIDAY_1530)
    assert weeks_made(friday.wrens) == [MONDAY]
    assert weeks_made(friday.robins) == []
    assert "ValueError" in caplog.text
    assert "Aisha" not in caplog.text


def test_a_missed_run_is_made_up_for_within_seven_days(friday):
    make_due(FRIDAY_1530 + dt.timedelta(days=7) - A_MINUTE)
    assert weeks_made(friday.robins) == [MONDAY]


def test_after_seven_days_the_next_week_is_made_and_no_older_one(friday):
    make_due(FRIDAY_1530 + dt.timedelta(days=7))
    assert weeks_made(friday.robins) == [MONDAY + dt.timedelta(days=7)]


def test_a_week_without_school_is_not_rolled_up(friday):
    Closure.objects.create(
        school=friday.school, name="Half term", first=MONDAY, last=MONDAY + dt.timedelta(days=4)
    )
    for days in range(7):
        make_due(FRIDAY_1530 + dt.timedelta(days=days))
    assert MONDAY not in weeks_made(friday.robins)


def test_the_week_before_a_holiday_is_not_made_up_for_long_after(friday):
    Closure.objects.create(
        school=friday.school,
        name="Holiday",
        first=MONDAY + dt.timedelta(days=7),
        last=MONDAY + dt.timedelta(days=18),
    )
    make_due(FRIDAY_1530 + dt.timedelta(days=9))
    assert weeks_made(friday.robins) == []


def test_with_friday_closed_the_week_ends_on_thursday(friday):
    day = MONDAY + dt.timedelta(days=4)
    Closure.objects.create(school=friday.school, name="Training", first=day, last=day)
    make_due(FRIDAY_1530 - dt.timedelta(days=1))
    assert weeks_made(friday.robins) == [MONDAY]


def test_weeks_outside_the_school_year_are_not_rolled_up(friday):
    make_due(dt.datetime(2027, 8, 6, 16, tzinfo=dt.UTC))
    assert not WeekSummary.objects.exists()


@pytest.mark.parametrize(
    ("monday", "due"),
    [
        # The clocks go back on 25 October 2026 and forward on 28 March 2027 (Europe/London).
        (dt.date(2026, 10, 19), dt.datetime(2026, 10, 23, 14, 30, tzinfo=dt.UTC)),
        (dt.date(2026, 10, 26), dt.datetime(2026, 10, 30, 15, 30, tzinfo=dt.UTC)),
        (dt.date(2027, 3, 22), dt.datetime(2027, 3, 26, 15, 30, tzinfo=dt.UTC)),
        (dt.date(2027, 3, 29), dt.datetime(2027, 4, 2, 14, 30, tzinfo=dt.UTC)),
    ],
)
def test_half_past_three_is_the_schools_own_on_both_sides_of_a_clock_change(village, monday, due):
    make_due(due - A_MINUTE)
    assert monday not in weeks_made(village.robins)
    make_due(due)
    assert monday in weeks_made(village.robins)


@pytest.mark.parametrize("first", [dt.date(2026, 10, 23), dt.date(2027, 3, 26)])
def test_run_after_run_over_a_clock_change_makes_each_week_once(village, first):
    start = dt.datetime.combine(first, dt.time(14), tzinfo=dt.UTC)
    made = sum(make_due(start + dt.timedelta(minutes=20 * step)) for step in range(9 * 72))
    mondays = [first - dt.timedelta(days=4), first + dt.timedelta(days=3)]
    assert [week for week in weeks_made(village.robins) if week in mondays] == mondays
    assert made == WeekSummary.objects.filter(audience="staff").count()


def test_each_school_goes_by_its_own_clock(friday):
    School.objects.filter(pk=friday.school.pk).update(time_zone="Pacific/Auckland")
    there = dt.datetime(2026, 11, 27, 2, 30, tzinfo=dt.UTC)
    make_due(there)
    assert weeks_made(friday.robins) == [MONDAY]
    larks = WeekSummary.objects.filter(school_class=friday.dot.school_class, week=MONDAY)
    assert not larks.exists()


def test_mails_go_to_each_adult_once_a_home_and_to_the_teacher(friday):
    set_day(friday.wrens)
    make_due(FRIDAY_1530)
    mails = SummaryMail.objects.filter(week=MONDAY)
    told = sorted(mails.values_list("recipient__name", flat=True))
    # Family is at home with Aisha of Robins and Cal of Wrens, and has one mail for both.
    assert told == ["Family", "Other-Family", "Other-Teacher", "Second-Home", "Teacher"]


def test_a_home_that_wants_no_mail_has_a_summary_but_no_mail(friday):
    Home.objects.filter(pk=friday.first_home.pk).update(wants_mail=False)
    make_due(FRIDAY_1530)
    assert WeekSummary.objects.filter(home=friday.first_home).exists()
    assert not SummaryMail.objects.filter(recipient=friday.people["family"]).exists()


def test_a_week_for_which_nothing_was_set_sends_families_no_mail(village):
    with freeze_time(FRIDAY_1530):
        make_due(FRIDAY_1530)
    assert WeekSummary.objects.filter(audience="family").exists()
    assert not SummaryMail.objects.filter(home__isnull=False).exists()


def test_the_job_makes_what_is_due_and_sends_the_mails_once(friday, mailoutbox):
    make_due_summaries()
    make_due_summaries()
    assert weeks_made(friday.robins) == [MONDAY]
    assert len(mailoutbox) == SummaryMail.objects.filter(mailed_at__isnull=False).count() > 0

"""Setting a day: now, for a morning to come, over changes of the clocks, and taking it back."""

import datetime as dt

import pytest
from freezegun import freeze_time

from tasks.days import moment, monday_named, week_name
from tasks.models import DayPlan
from tasks.plans import setting
from tasks.plans.forms.planning import SetForm
from tasks.plans.planning import ChangedMeanwhileError, PlanningError
from tests.tasks.builders import drafted, empty_day, gone_out, seen, send_work
from tests.village import MONDAY, Village

pytestmark = pytest.mark.servers


def set_form(village: Village, plan: DayPlan, **fields: object) -> SetForm:
    return SetForm(fields, plan=plan, zone=village.school.zone)


def at_seven(village: Village, plan: DayPlan) -> dt.datetime:
    form = set_form(village, plan, when="later", date=plan.date, time="07:00")
    assert form.is_valid(), form.errors
    return form.cleaned_data["at"]


@freeze_time("2026-10-20 12:00")
def test_seven_in_the_morning_is_seven_on_the_schools_clock_in_summer_and_in_winter(
    village: Village,
):
    friday, monday = dt.date(2026, 10, 23), dt.date(2026, 10, 26)

    assert at_seven(village, drafted(village, date=friday)).astimezone(dt.UTC).hour == 6
    assert at_seven(village, drafted(village, date=monday)).astimezone(dt.UTC).hour == 7


@freeze_time("2027-03-20 12:00")
def test_a_time_that_the_clocks_leap_over_is_refused_with_what_to_do(village: Village):
    plan = drafted(village, date=dt.date(2027, 3, 29))

    form = set_form(village, plan, when="later", date="2027-03-28", time="01:30")

    assert not form.is_valid()
    assert "clocks go forward over 01:30" in form.errors["time"][0]
    assert "Choose another time" in form.errors["time"][0]


@freeze_time("2026-10-20 12:00")
def test_of_a_time_that_comes_twice_the_first_is_taken(village: Village):
    at = moment(dt.date(2026, 10, 25), dt.time(1, 30), village.school.zone)

    assert at == dt.datetime(2026, 10, 25, 0, 30, tzinfo=dt.UTC)


@freeze_time("2026-11-23 09:00")
def test_a_time_gone_by_is_refused_and_not_taken_as_now(village: Village):
    plan = drafted(village)

    form = set_form(village, plan, when="later", date="2026-11-23", time="07:00")
    with pytest.raises(PlanningError, match="gone by"):
        setting.set_day(plan, seen(village, plan), dt.datetime(2026, 11, 23, 7, tzinfo=dt.UTC))

    assert "That time has gone by" in form.errors["time"][0]
    assert DayPlan.objects.get().goes_out_at is None


@freeze_time("2026-11-25 09:00")
def test_setting_a_day_gone_by_asks_first(village: Village):
    plan = drafted(village, date=MONDAY)

    unasked = set_form(village, plan, when="now")
    knowing = set_form(village, plan, when="now", knowing="on")

    assert "Monday 23 November has gone by" in unasked.errors["knowing"][0]
    assert knowing.is_valid()


@freeze_time("2026-11-20 09:00")
def test_work_does_not_go_out_after_its_day(village: Village):
    form = set_form(village, drafted(village), when="later", date="2026-11-24", time="07:00")

    assert "The work is for Monday 23 November" in form.errors["date"][0]


def test_setting_for_later_without_a_time_says_what_is_missing(village: Village):
    form = set_form(village, drafted(village), when="later", date="", time="")

    assert "Choose a date and a time" in form.non_field_errors()[0]


def test_families_see_a_day_from_its_moment_on_and_not_before(village: Village):
    with freeze_time("2026-11-20 09:00"):
        plan = drafted(village)
        setting.set_day(plan, seen(village, plan), at_seven(village, plan))
    family = village.people["second home"]

    with freeze_time("2026-11-23 06:59:59"):
        assert not DayPlan.objects.visible_to(family).exists()
    with freeze_time("2026-11-23 07:00:00"):
        assert DayPlan.objects.visible_to(family).get() == plan


def test_a_day_without_parts_cannot_be_set(village: Village):
    plan = empty_day(village)

    with pytest.raises(PlanningError, match="Add a part first"):
        setting.set_day(plan, seen(village, plan))

    assert not DayPlan.objects.exists()


def test_a_day_is_taken_back_while_nobody_has_sent_work(village: Village):
    plan = gone_out(drafted(village))

    setting.take_back(plan, seen(village, plan))

    assert DayPlan.objects.get().goes_out_at is None


def test_a_day_for_which_work_was_sent_is_not_taken_back(village: Village):
    plan = gone_out(drafted(village))
    send_work(village, plan)

    with pytest.raises(PlanningError, match="can no longer be taken back"):
        setting.take_back(plan, seen(village, plan))

    assert DayPlan.objects.get().is_out


def test_setting_a_plan_that_somebody_changed_since_is_told(village: Village):
    plan = drafted(village)
    stale = seen(village, plan)
    setting.reword_day(plan, "Doubling", "", seen(village, plan, "lead"))

    with pytest.raises(ChangedMeanwhileError):
        setting.set_day(plan, stale)

    assert DayPlan.objects.get().goes_out_at is None


def test_weeks_are_named_as_the_calendar_standard_names_them():
    assert week_name(dt.date(2027, 1, 1)) == "2026-W53"
    assert monday_named("2026-W53") == dt.date(2026, 12, 28)
    with pytest.raises(ValueError):
        monday_named("2026-W54")

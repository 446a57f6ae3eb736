"""Setting all days of a sequence, throwing the draft away, and bringing it back."""

import datetime as dt

import pytest
from freezegun import freeze_time

from tasks.models import DayPlan, Sequence, Task
from tasks.plans import planning
from tasks.plans.planning import ChangedMeanwhileError, PlanningError
from tasks.sequences.forms import SetAllForm
from tasks.sequences.setting import bring_back, set_all, throw_away
from tests.tasks.builders import (
    dates_of,
    drafted,
    drafted_week,
    gone_out,
    keys,
    own_part,
    seen,
    seen_now,
    send_work,
)
from tests.village import MONDAY, Village

pytestmark = pytest.mark.servers
TUESDAY = MONDAY + dt.timedelta(days=1)


@pytest.fixture(autouse=True)
def friday_before():
    """Let it be noon on the Friday before the week that is planned."""
    with freeze_time("2026-11-20 12:00"):
        yield


def form_for(village: Village, sequence: Sequence, **fields: object) -> SetAllForm:
    drafts = list(sequence.day_plans.drafts().planned().values_list("date", flat=True))
    return SetAllForm(fields, dates=drafts, school=village.school)


def set_for(village: Village, sequence: Sequence, time: str, **fields: object) -> list[dt.date]:
    form = form_for(village, sequence, time=time, **fields)
    assert form.is_valid(), form.errors
    return set_all(sequence, form.cleaned_data["moments"], seen_now(village, sequence))


def out_at(sequence: Sequence) -> dict[dt.date, dt.datetime]:
    return dict(sequence.day_plans.values_list("date", "goes_out_at"))


def test_every_day_goes_out_on_its_own_morning(village: Village):
    sequence = drafted_week(village)

    done = set_for(village, sequence, "07:00")

    assert done == dates_of(sequence)
    for date, at in out_at(sequence).items():
        assert at == dt.datetime.combine(date, dt.time(7), dt.UTC)
    family = village.people["second home"]
    assert not DayPlan.objects.visible_to(family).exists()
    with freeze_time("2026-11-24 07:00:00"):
        seen_by_family = DayPlan.objects.visible_to(family).values_list("date", flat=True)
        assert list(seen_by_family) == [MONDAY, TUESDAY]


def test_seven_is_seven_on_the_schools_clock_on_both_sides_of_the_change_of_clocks(
    village: Village,
):
    thursday, monday = dt.date(2027, 3, 25), dt.date(2027, 3, 29)
    with freeze_time("2027-03-20 12:00"):
        sequence = drafted_week(village, first=thursday)

        set_for(village, sequence, "07:00")

    at = out_at(sequence)
    assert at[thursday].astimezone(dt.UTC).hour == 7
    assert at[monday].astimezone(dt.UTC).hour == 6


def test_a_morning_on_which_the_clocks_leap_over_the_time_is_named(village: Village):
    # In Egypt the clocks leap from midnight to one on the last Friday of April.
    village.school.time_zone = "Africa/Cairo"
    village.school.save()
    friday = dt.date(2027, 4, 30)
    with freeze_time("2027-04-20 12:00"):
        sequence = drafted_week(village, first=friday)

        form = form_for(village, sequence, time="00:30")

        assert "clocks go forward over 00:30 on Friday 30 April" in form.errors["time"][0]
    assert set(out_at(sequence).values()) == {None}


def test_days_that_are_set_already_stay_as_they_are(village: Village):
    sequence = drafted_week(village)
    early = gone_out(DayPlan.objects.get(date=TUESDAY)).goes_out_at

    done = set_for(village, sequence, "07:00")

    assert TUESDAY not in done
    assert len(done) == 4
    assert out_at(sequence)[TUESDAY] == early


def test_a_day_without_parts_and_a_day_gone_by_are_not_set(village: Village):
    sequence = drafted_week(village)
    Task.objects.filter(day_plan__date=TUESDAY).delete()

    with freeze_time("2026-11-25 06:00"):
        done = set_for(village, sequence, "07:00")

    assert done == [MONDAY + dt.timedelta(days=number) for number in (2, 3, 4)]


def test_when_todays_time_has_gone_by_it_is_asked_first(village: Village):
    sequence = drafted_week(village)
    with freeze_time("2026-11-23 09:00"):
        unasked = form_for(village, sequence, time="07:00")
        assert "07:00 has gone by today" in unasked.errors["time"][0]

        set_for(village, sequence, "07:00", at_once="on")

        assert DayPlan.objects.get(date=MONDAY).is_out
        assert not DayPlan.objects.get(date=TUESDAY).is_out


def test_when_all_is_set_there_is_nothing_left_to_set(village: Village):
    sequence = drafted_week(village)
    set_for(village, sequence, "07:00")

    with pytest.raises(PlanningError, match="no drafted day left"):
        set_for(village, sequence, "07:00")


def test_setting_what_somebody_changed_since_is_told(village: Village):
    sequence = drafted_week(village)
    stale = seen_now(village, sequence)
    task = own_part(sequence, MONDAY)
    planning.redraw_part(task, seen(village, task.day_plan, "lead"))
    form = form_for(village, sequence, time="07:00")
    assert form.is_valid()

    with pytest.raises(ChangedMeanwhileError):
        set_all(sequence, form.cleaned_data["moments"], stale)

    assert set(out_at(sequence).values()) == {None}


def whole(sequence: Sequence) -> list[tuple]:
    """Return all that is on the days of a sequence, in a fixed order."""
    tasks = Task.objects.filter(day_plan__sequence=sequence).order_by(
        "day_plan__date", "part", "group"
    )
    return [
        (t.day_plan.date, t.day_plan.focus, t.part, t.group_id, t.words, t.fetch, t.locked, keys(t))
        for t in tasks
    ]


def test_a_draft_thrown_away_comes_back_whole(village: Village):
    sequence = drafted_week(village, "adding")
    Task.objects.filter(day_plan__date=TUESDAY).update(locked=True)
    before = whole(sequence)

    throw_away(sequence, seen_now(village, sequence))
    assert not Task.objects.exists()
    assert not Sequence.objects.with_days().exists()
    bring_back(sequence, seen_now(village, sequence))

    assert whole(sequence) == before


def test_throwing_away_leaves_what_is_set_and_the_work_sent_for_it(village: Village):
    sequence = drafted_week(village)
    monday = gone_out(DayPlan.objects.get(date=MONDAY))
    work = send_work(village, monday)
    before = keys(own_part(sequence, MONDAY))

    throw_away(sequence, seen_now(village, sequence))

    assert dates_of(sequence) == [MONDAY]
    assert keys(own_part(sequence, MONDAY)) == before
    work.refresh_from_db()
    assert work.day_plan == monday


def test_the_days_of_a_draft_thrown_away_are_free_to_be_planned(village: Village):
    throw_away(sequence := drafted_week(village), seen_now(village, sequence))

    again = drafted_week(village, "doubling")

    assert dates_of(again)[0] == MONDAY


def test_bringing_back_leaves_days_that_were_planned_since(village: Village):
    sequence = drafted_week(village)
    throw_away(sequence, seen_now(village, sequence))
    since = drafted(village, "quick_recall", date=TUESDAY)

    left = bring_back(sequence, seen_now(village, sequence))

    assert left == [TUESDAY]
    assert TUESDAY not in dates_of(sequence)
    assert since.tasks.get().part == "quick_recall"


def test_versions_of_a_group_that_is_gone_do_not_come_back(village: Village):
    sequence = drafted_week(village, "adding")
    throw_away(sequence, seen_now(village, sequence))
    village.bens_group.delete()

    bring_back(sequence, seen_now(village, sequence))

    assert not Task.objects.exclude(group=None).exists()
    assert len(dates_of(sequence)) == 5


def test_only_the_last_change_can_be_brought_back(village: Village):
    sequence = drafted_week(village)

    with pytest.raises(PlanningError, match="nothing to bring back"):
        bring_back(sequence, seen_now(village, sequence))


def test_when_every_day_is_set_there_is_no_draft_to_throw_away(village: Village):
    sequence = drafted_week(village)
    set_for(village, sequence, "07:00")

    with pytest.raises(PlanningError, match="no draft to throw away"):
        throw_away(sequence, seen_now(village, sequence))

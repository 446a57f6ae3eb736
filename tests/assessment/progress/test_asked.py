"""Who was asked what, and what the weeks' work is about."""

import datetime as dt

import pytest
from freezegun import freeze_time

from assessment.goals.goal_sets import default_framework
from assessment.progress.work_set.asked import asked_of_class, goals_of_kinds, kinds_of_weeks
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import make_prompts
from tests.assessment.builders import set_day
from tests.village import MONDAY

FRIDAY = "2026-11-27 12:00"
SHARING, SUBITISING, BONDS = "ELG-NP-3", "ELG-NUM-2", "ELG-NUM-3"


@pytest.fixture
def friday(village):
    with freeze_time(FRIDAY):
        yield village


def asked(village):
    """Give the codes each child was asked, by first name."""
    children = list(village.robins.children.all())
    found = asked_of_class(village.robins, children, list(default_framework().goals.in_use()))
    return {
        child.first_name: {code for key, code in found if key == child.pk} for child in children
    }


def add_task(plan, kind, within, group=None, depth="core"):
    task = Task.objects.create(
        day_plan=plan,
        part="main_task",
        kind=kind,
        within=within,
        count=4,
        seed=3,
        group=group,
        depth=depth,
    )
    prompts = make_prompts(kind, within, 4, 3, depth=depth)
    TaskPrompt.objects.bulk_create(TaskPrompt.of(task, n, one) for n, one in enumerate(prompts))


def test_a_goal_was_asked_of_whoever_was_set_work_that_can_show_it(friday):
    set_day(friday.robins)
    assert SHARING in asked(friday)["Aisha"]
    assert SUBITISING not in asked(friday)["Aisha"]


def test_what_is_only_drafted_was_not_asked(friday):
    set_day(friday.robins)
    DayPlan.objects.update(goes_out_at=None)
    assert asked(friday) == {"Aisha": set(), "Ben": set()}


def test_a_child_whose_group_had_other_work_was_not_asked_what_the_class_was(friday):
    add_task(set_day(friday.robins), "subitising", 5, friday.bens_group)
    found = asked(friday)
    assert SHARING in found["Aisha"] - found["Ben"]
    assert SUBITISING in found["Ben"] - found["Aisha"]


def test_questions_with_something_to_count_along_do_not_ask_for_recall(friday):
    plan = set_day(friday.robins, kinds=())
    add_task(plan, "number-bonds", 10, depth="with support")
    assert BONDS not in asked(friday)["Aisha"]
    plan.tasks.all().delete()
    add_task(plan, "number-bonds", 10, depth="challenge")
    assert BONDS in asked(friday)["Aisha"]


def test_work_of_a_kind_that_is_gone_asked_for_nothing(friday):
    set_day(friday.robins)
    Task.objects.update(kind="moons")
    assert asked(friday)["Aisha"] == set()


def test_the_weeks_work_is_of_the_latest_ten_days_and_the_week_to_come(friday):
    today = dt.date(2026, 11, 27)
    set_day(friday.robins, dt.date(2026, 9, 7), ("one-more",))
    for back in range(10):
        set_day(friday.robins, MONDAY - dt.timedelta(days=back))
    assert kinds_of_weeks(friday.robins, today) == {"halving"}
    coming = set_day(friday.robins, dt.date(2026, 12, 1), kinds=())
    add_task(coming, "subitising", 5)
    assert kinds_of_weeks(friday.robins, today) == {"halving", "subitising"}
    goals = default_framework().goals.in_use()
    assert {SHARING, SUBITISING} <= goals_of_kinds(goals, {"halving", "subitising"})

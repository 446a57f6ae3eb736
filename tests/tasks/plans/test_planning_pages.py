"""The pages of planning: who may open and press what, and what a teacher is told."""

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse
from freezegun import freeze_time

from portal.people.models import Closure
from tasks.models import DayPlan, Task
from tasks.plans import planning
from tasks.plans.defaults import usual_day
from tasks.plans.planning import Seen
from tests.tasks.builders import (
    DOUBLING,
    drafted,
    empty_day,
    gone_out,
    keys,
    queries_of,
    seen,
    send_work,
)
from tests.village import MONDAY, Village

CHOICE = {"kind": "halving", "within": "10", "count": "2", "depth": "core"}
WORDS = {"words": "Use the blue plates.", "fetch": "", "say": "", "caution": ""}


@pytest.fixture(autouse=True)
def monday_morning():
    """Let it be Monday, eight in the morning."""
    with freeze_time("2026-11-23 08:00"):
        yield


def day(village: Village, name: str = "plan-day", date: dt.date = MONDAY) -> str:
    return reverse(f"tasks:{name}", args=[village.robins.pk, date])


def part(village: Village, task: Task, name: str, *more: int) -> str:
    return reverse(f"tasks:{name}", args=[village.robins.pk, MONDAY, task.pk, *more])


def press(client: Client, address: str, version: int, **fields: str) -> str:
    """Press a button of a page that showed *version*, and read the page one comes back to."""
    response = client.post(f"{address}?version={version}", fields, follow=True)
    assert response.status_code == 200
    return response.content.decode()


def test_a_teacher_drafts_a_day_sets_it_and_takes_it_back(village: Village, signed_in):
    teacher = signed_in("teacher")

    press(teacher, day(village, "plan-draft"), 0, kind="doubling", within="10")
    page = press(teacher, day(village, "plan-set"), 1, when="now")
    assert "Families can see it now" in page
    assert DayPlan.objects.get().is_out

    page = press(teacher, day(village, "plan-take-back"), 2)
    assert "Taken back" in page
    assert not DayPlan.objects.get().is_out


def test_a_teacher_sets_a_day_for_a_morning_to_come(village: Village, signed_in):
    tuesday = MONDAY + dt.timedelta(days=1)
    plan = drafted(village, date=tuesday)
    fields = {"when": "later", "date": "2026-11-24", "time": "07:00"}

    page = press(signed_in("teacher"), day(village, "plan-set", tuesday), plan.version, **fields)

    assert "Set. Families see it from Tuesday 24 November, 07:00." in page
    assert DayPlan.objects.get().goes_out_at == dt.datetime(2026, 11, 24, 7, tzinfo=dt.UTC)


def test_setting_a_day_gone_by_says_so_before_and_after(village: Village, signed_in):
    friday = MONDAY - dt.timedelta(days=3)
    plan = drafted(village, date=friday)
    teacher, address = signed_in("teacher"), day(village, "plan-set", friday)

    page = press(teacher, address, plan.version, when="now")
    assert "Friday 20 November has gone by. Tick the box" in page
    assert not DayPlan.objects.get().is_out

    page = press(teacher, address, plan.version, when="now", knowing="on")
    assert "The day has gone by: families find it under the days before" in page
    assert DayPlan.objects.get().is_out


def test_a_draft_that_the_kind_cannot_fill_comes_back_with_what_to_do(village: Village, signed_in):
    page = press(signed_in("teacher"), day(village, "plan-draft"), 0, kind="doubling", within="200")

    assert "“Doubling” goes up to 5, " in page
    assert "Choose one of these." in page
    assert not DayPlan.objects.exists()


def test_every_button_of_a_part_does_what_it_says(village: Village, signed_in):
    plan = drafted(village, "main_task", "quick_recall")
    task = plan.tasks.get(part="main_task")
    teacher = signed_in("teacher")
    before = keys(task)

    press(teacher, part(village, task, "prompt-redraw", 0), plan.version)
    assert keys(task)[1:] == before[1:]
    press(teacher, part(village, task, "part-redraw"), plan.version + 1)
    assert not set(keys(task)) & set(before[1:])
    press(teacher, part(village, task, "part-change"), plan.version + 2, **CHOICE)
    press(teacher, part(village, task, "part-reword"), plan.version + 3, **WORDS)
    press(teacher, part(village, task, "part-lock"), plan.version + 4)
    task.refresh_from_db()
    assert (task.kind, task.words, task.locked) == ("halving", WORDS["words"], True)

    unlock = part(village, task, "part-lock") + f"?open=1&version={plan.version + 5}"
    teacher.post(unlock)
    page = press(teacher, part(village, task, "part-remove"), plan.version + 6)
    assert "The part is removed." in page
    page = press(teacher, day(village, "plan-put-back"), plan.version + 7)
    assert WORDS["words"] in page


def test_typed_words_are_kept_when_somebody_else_was_quicker(village: Village, signed_in):
    plan = drafted(village)
    task = plan.tasks.get()
    teacher, address = signed_in("teacher"), part(village, task, "part-reword")
    planning.lock_part(task, True, seen(village, plan, "lead"))

    page = press(teacher, address, plan.version, **WORDS)

    assert "Lead has changed this plan since you opened it" in page
    assert WORDS["words"] in page
    assert Task.objects.get().words != WORDS["words"]
    assert f"version={plan.version + 1}" in page


def test_a_button_on_a_part_that_somebody_removed_says_so(village: Village, signed_in):
    plan = drafted(village, "main_task", "quick_recall")
    task = plan.tasks.get(part="main_task")
    planning.remove_part(task, seen(village, plan, "lead"))

    page = press(signed_in("teacher"), part(village, task, "part-redraw"), plan.version)

    assert "That part is no longer on the plan." in page


def test_a_page_that_does_not_say_its_version_changes_nothing(village: Village, signed_in):
    plan = drafted(village)
    before = keys(plan.tasks.get())

    for query in ("", "?version=", "?version=x", "?version=-1"):
        signed_in("teacher").post(part(village, plan.tasks.get(), "part-redraw") + query)

    assert keys(plan.tasks.get()) == before


def test_once_work_came_the_day_says_so_and_offers_no_redraw(village: Village, signed_in):
    plan = gone_out(drafted(village))
    teacher = signed_in("teacher")
    redraw = part(village, plan.tasks.get(), "part-redraw")
    assert redraw in teacher.get(day(village)).content.decode()
    send_work(village, plan)

    page = teacher.get(day(village)).content.decode()

    assert "Families have sent work for this day." in page
    assert redraw not in page
    assert day(village, "plan-take-back") not in page


PARTS = ["part-change", "part-reword", "part-redraw", "part-lock", "part-remove"]
POSTS = ["plan-draft", "plan-draft-like", "plan-reword", "plan-set", "plan-take-back"]


@pytest.mark.parametrize("name", [*POSTS, "plan-put-back", "part-add"])
@pytest.mark.parametrize("role", ["family", "other teacher", "assistant", "office", "foreign lead"])
def test_only_who_runs_the_class_changes_its_plan(
    village: Village, signed_in, name: str, role: str
):
    drafted(village)

    response = signed_in(role).post(day(village, name) + "?version=1", CHOICE)

    assert response.status_code == 404
    assert DayPlan.objects.get().version == 1


@pytest.mark.parametrize("name", PARTS)
@pytest.mark.parametrize("role", ["family", "other teacher", "assistant", "foreign lead"])
def test_only_who_runs_the_class_changes_a_part(village: Village, signed_in, name: str, role: str):
    task = drafted(village).tasks.get()

    response = signed_in(role).post(part(village, task, name) + "?version=1", CHOICE | WORDS)

    assert response.status_code == 404
    assert DayPlan.objects.get().version == 1


def test_an_assistant_reads_the_plan_and_finds_no_buttons(village: Village, signed_in):
    plan = drafted(village)

    page = signed_in("assistant").get(day(village)).content.decode()

    assert plan.tasks.get().prompts.first().sentence in page
    addresses = [day(village, name) for name in [*POSTS, "part-add"]]
    addresses += [part(village, plan.tasks.get(), name) for name in PARTS]
    assert [address for address in addresses if address in page] == []


@pytest.mark.parametrize("name", POSTS)
def test_actions_are_not_done_by_following_a_link(village: Village, signed_in, name: str):
    drafted(village)

    assert signed_in("teacher").get(day(village, name)).status_code == 405


def test_the_week_shows_each_day_with_what_is_set_drafted_empty_or_closed(
    village: Village, signed_in
):
    gone_out(drafted(village))
    drafted(village, "warm_up", date=MONDAY + dt.timedelta(days=1))
    friday = MONDAY + dt.timedelta(days=4)
    Closure.objects.create(school=village.school, name="Training day", first=friday, last=friday)

    address = reverse("tasks:plan-week", args=[village.robins.pk])
    page = signed_in("teacher").get(address).content.decode()

    for words in ("families see it", "draft", "nothing yet", "School is closed: Training day"):
        assert words in page
    assert [f"{name}<br>" in page for name in ("Monday", "Friday", "Saturday")] == [
        True,
        True,
        False,
    ]


@pytest.mark.parametrize("week", ["2026-W60", "2026-48", "x", "2025-W53"])
def test_a_week_that_is_not_in_the_calendar_is_not_found(village: Village, signed_in, week: str):
    address = reverse("tasks:plan-week", args=[village.robins.pk])

    assert signed_in("teacher").get(f"{address}?week={week}").status_code == 404


def test_a_date_that_is_not_in_the_calendar_is_not_found(village: Village, signed_in):
    address = f"/classes/{village.robins.pk}/plan/2026-02-30/"

    assert signed_in("teacher").get(address).status_code == 404


def test_a_day_and_a_week_cost_the_same_queries_whatever_is_on_them(village: Village, signed_in):
    teacher = signed_in("teacher")
    week = reverse("tasks:plan-week", args=[village.robins.pk])
    drafted(village)
    village.robins.groups.create(name="Pears")
    teacher.get(week)  # The first page of all also notes the class in the session.
    before = [queries_of(teacher, address) for address in (week, day(village))]

    plan = DayPlan.objects.get()
    planning.draft_day(plan, usual_day("halving", 10), seen(village, plan))
    drafted(village, choice=DOUBLING, group=village.bens_group)
    for number in range(1, 5):
        other = empty_day(village, MONDAY + dt.timedelta(days=number))
        planning.draft_day(other, usual_day("halving", 10), Seen(0, village.people["teacher"]))

    assert [queries_of(teacher, address) for address in (week, day(village))] == before

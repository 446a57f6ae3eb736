"""The teacher's say on a day: which part is the main one, in which order, and how long."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tasks.models import DayPlan, Task
from tasks.plans import planning
from tasks.plans.defaults import usual_day
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, empty_day, seen
from tests.village import MONDAY, Village

pytestmark = pytest.mark.django_db
PARTS = ["warm_up", "main_task", "number_of_the_day", "quick_recall", "try_at_home"]
USUAL = [*PARTS[:2], "enough", *PARTS[2:]]


def day(village: Village) -> DayPlan:
    plan = empty_day(village)
    planning.draft_day(plan, usual_day("halving", 20), seen(village, plan))
    return DayPlan.objects.get(school_class=village.robins, date=MONDAY)


def arrange(
    client: Client, plan: DayPlan, main: str, places: dict[str, int], most: int = 12
) -> str:
    """Send the form of order and length, and give the page that follows."""
    plan.refresh_from_db()
    address = reverse("tasks:plan-arrange", args=[plan.school_class_id, MONDAY])
    given: dict[str, Any] = {f"place_{part}": place for part, place in places.items()}
    page = client.post(
        f"{address}?version={plan.version}",
        {"main": main, "most_minutes": most, **given},
        follow=True,
    )
    plan.refresh_from_db()
    return page.content.decode()


def placed(order: list[str]) -> dict[str, int]:
    return {part: place for place, part in enumerate(order, 1)}


def test_the_teacher_chooses_the_main_part_and_the_order_and_takes_it_back(
    village: Village, signed_in
):
    teacher, plan = signed_in("teacher"), day(village)
    order = ["quick_recall", "number_of_the_day", "main_task", "warm_up", "try_at_home"]

    arrange(teacher, plan, "number_of_the_day", placed(order))

    assert plan.main_part == "number_of_the_day"
    assert plan.steps == [*order[:2], "enough", *order[2:]]
    places = {task.part: task.position for task in plan.tasks.all()}
    assert sorted(places, key=places.get) == order

    arrange(teacher, plan, "main_task", placed(PARTS))

    assert (plan.steps, plan.order) == (USUAL, "")


def test_two_parts_in_one_place_are_refused_and_nothing_changes(village: Village, signed_in):
    plan = day(village)

    page = arrange(signed_in("teacher"), plan, "main_task", dict.fromkeys(PARTS, 1))

    assert "Two parts have the same place." in page
    assert plan.order == ""


@pytest.mark.parametrize("order", ["", "moon enough", "enough", "main_task main_task", "a b c"])
def test_an_order_that_the_program_cannot_read_is_the_usual_one(order: str):
    plan = DayPlan(order=order)

    assert plan.steps == USUAL
    assert plan.main_part in Task.Part.values


def test_a_part_that_a_row_does_not_name_comes_last():
    assert DayPlan(order="main_task enough warm_up").steps == [
        *("main_task", "enough", "warm_up"),
        *("number_of_the_day", "quick_recall", "try_at_home"),
    ]


def test_week_day_and_preview_say_how_long_the_day_takes(village: Village, signed_in):
    day(village)
    teacher = signed_in("teacher")
    for name, more in (
        ("plan-week", "?week=2026-W48"),
        ("plan-day", ""),
        ("plan-preview", ""),
    ):
        arguments = [village.robins.pk, *([] if name == "plan-week" else [MONDAY])]
        page = teacher.get(reverse(f"tasks:{name}", args=arguments) + more).content.decode()
        assert "about 11 minutes" in page, name


def test_a_day_that_is_too_long_says_so_before_it_is_set_and_can_be_set(
    village: Village, signed_in
):
    plan = drafted(village, "main_task", choice=Choice("sharing-equally", 20, 12, "core"))
    teacher = signed_in("teacher")
    address = reverse("tasks:plan-day", args=[village.robins.pk, MONDAY])

    assert "and you want 12 at most" in teacher.get(address).content.decode()
    assert "at most. Ask for fewer" not in arrange(
        teacher, plan, "main_task", placed(PARTS), most=30
    )
    arrange(teacher, plan, "main_task", placed(PARTS), most=5)

    set_now = reverse("tasks:plan-set", args=[village.robins.pk, MONDAY])
    teacher.post(f"{set_now}?version={plan.version}", {"when": "now", "knowing": "on"})
    plan.refresh_from_db()
    assert plan.goes_out_at is not None

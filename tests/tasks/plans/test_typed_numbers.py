"""The numbers of a part, typed by its teacher."""

import pytest
from django.urls import reverse

from tasks.models import DayPlan, Task
from tasks.plans import planning
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, gone_out, seen, send_work
from tests.village import MONDAY, Village

HALVING = Choice("halving", 10, 3, "core")


def address(village: Village, task: Task, name: str = "part-numbers") -> str:
    version = DayPlan.objects.get().version
    path = reverse(f"tasks:{name}", args=[village.robins.pk, MONDAY, task.pk])
    return f"{path}?version={version}"


def sentences(task: Task | None = None) -> list[str]:
    task = task or Task.objects.get(part="main_task")
    return [row.sentence for row in task.prompts.all()]


def typed(village: Village, signed_in, text: str, within: str = "10") -> str:
    task = Task.objects.get(part="main_task")
    fields = {"numbers": text, "within": within}
    response = signed_in("teacher").post(address(village, task), fields, follow=True)
    return response.content.decode()


def test_a_teacher_gets_exactly_the_numbers_she_types(village: Village, signed_in):
    drafted(village, choice=HALVING)

    page = typed(village, signed_in, "6, 10, 4, 8")

    assert "The questions are changed." in page
    assert sentences() == [f"half of {number} = □" for number in (6, 10, 4, 8)]


def test_new_questions_keep_to_the_numbers_that_were_typed(village: Village, signed_in):
    drafted(village, choice=HALVING)
    typed(village, signed_in, "6, 10")
    task = Task.objects.get()

    planning.redraw_part(task, seen(village, DayPlan.objects.get()))

    assert {row.prompt.fact for row in task.prompts.all()} == {"6", "10"}


def test_what_cannot_be_asked_is_told_at_the_field_and_nothing_typed_is_lost(
    village: Village, signed_in
):
    drafted(village, choice=HALVING)
    before = sentences()

    page = typed(village, signed_in, "6, 7, <b>, 12")

    assert "7 cannot be halved into two equal groups here: one would be left over." in page
    assert "“12” needs numbers up to 20." in page
    assert "6, 7, &lt;b&gt;, 12</textarea>" in page
    assert sentences() == before


def test_a_larger_range_is_chosen_with_the_numbers(village: Village, signed_in):
    drafted(village, choice=HALVING)

    typed(village, signed_in, "6, 12", within="20")

    assert sentences() == ["half of 6 = □", "half of 12 = □"]
    assert Task.objects.get().within == 20


def test_the_number_of_the_day_is_one_number(village: Village, signed_in):
    drafted(village, choice=Choice("number-of-the-day", 10, 3, "core"))

    page = typed(village, signed_in, "7, 8")
    assert "“7, 8” cannot be the number here. Type one number from 1 to 10." in page

    typed(village, signed_in, "7")
    task = Task.objects.get()
    assert {row.prompt.numbers[0] for row in task.prompts.all()} == {7}
    assert task.prompts.count() == 3


def test_the_questions_from_before_come_back_with_one_press(village: Village, signed_in):
    drafted(village, choice=HALVING)
    before = sentences()
    typed(village, signed_in, "6, 10, 4, 8")

    put_back = reverse("tasks:plan-put-back", args=[village.robins.pk, MONDAY])
    signed_in("teacher").post(f"{put_back}?version={DayPlan.objects.get().version}")

    assert sentences() == before
    assert Task.objects.get().only == {"facts": [], "forms": [], "least": 0, "most": 0}


def test_questions_that_families_sent_work_for_stay(village: Village, signed_in):
    plan = gone_out(drafted(village, choice=HALVING))
    task = plan.tasks.get()
    send_work(village, plan, task)
    before = sentences()

    page = typed(village, signed_in, "6, 10")

    assert "Families have sent work for this part, so its questions stay as they are." in page
    assert sentences() == before


def test_work_that_came_in_after_the_change_keeps_it_from_being_undone(village: Village, signed_in):
    plan = gone_out(drafted(village, choice=HALVING))
    typed(village, signed_in, "6, 10")
    send_work(village, plan, Task.objects.get())

    with pytest.raises(planning.PlanningError, match="stay as they are"):
        planning.put_back(plan, seen(village, DayPlan.objects.get()))

    assert sentences() == ["half of 6 = □", "half of 10 = □"]


def test_the_page_offers_the_numbers_that_are_asked_now(village: Village, signed_in):
    drafted(village, choice=HALVING)
    typed(village, signed_in, "6, 10, 4")

    page = signed_in("teacher").get(address(village, Task.objects.get())).content.decode()

    assert "6, 10, 4</textarea>" in page


def test_a_kind_without_numbers_has_no_such_page(village: Village, signed_in):
    drafted(village, choice=Choice("halves-of-shapes", 10, 2, "core"))
    teacher, task = signed_in("teacher"), Task.objects.get()

    assert teacher.get(address(village, task)).status_code == 404
    day = teacher.get(reverse("tasks:plan-day", args=[village.robins.pk, MONDAY])).content.decode()
    assert "Type the numbers" not in day

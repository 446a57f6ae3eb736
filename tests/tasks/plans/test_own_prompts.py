"""A question of the teacher's own on a part of a day, and her list of those she kept."""

import pytest
from django.test import Client
from django.urls import reverse

from tasks.models import DayPlan, OwnPrompt, Task
from tasks.numberwork.by_hand.own import own_prompt
from tasks.plans import by_hand, planning
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, gone_out, keys, seen, send_work
from tests.village import MONDAY, Village

HALVING = Choice("halving", 10, 2, "core")
SOCKS = {
    "sentence": "Fetch 6 socks. How many pairs?",
    "picture": "counters",
    "numbers": "6",
    "how": "number",
    "right": "3",
    "choices": "",
    "place": "",
}


def address(village: Village, name: str = "part-own", *more: int) -> str:
    task = Task.objects.get(group=None)
    path = reverse(f"tasks:{name}", args=[village.robins.pk, MONDAY, task.pk, *more])
    return f"{path}?version={DayPlan.objects.get().version}"


def press(client: Client, where: str, **fields: str) -> str:
    response = client.post(where, fields, follow=True)
    assert response.status_code == 200
    return response.content.decode()


def sentences(task: Task | None = None) -> list[str]:
    task = task or Task.objects.get(group=None)
    return [row.sentence for row in task.prompts.all()]


def with_socks(village: Village, place: int | None = None) -> Task:
    """Draft two halves, with a question of the teacher's own."""
    plan = drafted(village, choice=HALVING)
    prompt = own_prompt(SOCKS["sentence"], "counters", "6", "number", "3")
    by_hand.add_own(plan.tasks.get(), prompt, place, seen(village, plan))
    return Task.objects.get()


def test_a_teacher_puts_a_question_of_her_own_after_the_others(village: Village, signed_in):
    drafted(village, choice=HALVING)
    before = sentences()

    page = press(signed_in("teacher"), address(village), **SOCKS)

    assert sentences() == [*before, SOCKS["sentence"]]
    assert "Answer: 3" in page
    assert "6 counters" in page
    assert "Clear the floor first" in page, "socks bring their caution"


def test_it_can_stand_in_the_place_of_another(village: Village, signed_in):
    drafted(village, choice=HALVING)
    second = sentences()[1]

    press(signed_in("teacher"), address(village), **SOCKS | {"place": "0"})

    assert sentences() == [SOCKS["sentence"], second]


def test_what_is_wrong_is_told_at_its_field_and_nothing_typed_is_lost(village: Village, signed_in):
    drafted(village, choice=HALVING)
    wrong = SOCKS | {"sentence": "<script>alert(1)</script>", "numbers": "31"}

    page = press(signed_in("teacher"), address(village), **wrong)

    assert "Counters: type how many, 0 to 30" in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt;</textarea>" in page
    assert "<script>alert" not in page
    assert len(sentences()) == 2


def test_it_is_drawn_as_it_is_typed_and_with_a_button_where_there_are_no_scripts(
    village: Village, signed_in
):
    drafted(village, choice=HALVING)
    teacher = signed_in("teacher")
    live = reverse("tasks:own-drawn", args=[village.robins.pk])

    assert "6 counters" in press(teacher, live, **SOCKS)
    assert "type how many, 0 to 30" in press(teacher, live, **SOCKS | {"numbers": "99"})
    page = press(teacher, address(village), **SOCKS, draw="1")
    assert "6 counters" in page
    assert SOCKS["sentence"] + "</textarea>" in page
    assert len(sentences()) == 2


def test_new_questions_leave_her_own_where_it_is(village: Village, signed_in):
    task = with_socks(village, place=0)

    planning.redraw_part(task, seen(village, DayPlan.objects.get()))

    assert sentences()[0] == SOCKS["sentence"]
    assert len(sentences()) == 2


def test_a_part_of_her_own_alone_says_what_to_do_for_another(village: Village):
    task = with_socks(village, place=0)
    other = own_prompt("How many spoons?", how="unchecked")
    by_hand.add_own(task, other, 1, seen(village, DayPlan.objects.get()))

    with pytest.raises(planning.PlanningError, match="All these questions are your own"):
        planning.redraw_part(task, seen(village, DayPlan.objects.get()))

    by_hand.take_out_own(task, 0, seen(village, DayPlan.objects.get()))
    with pytest.raises(planning.PlanningError, match="the only question"):
        by_hand.take_out_own(task, 0, seen(village, DayPlan.objects.get()))


def test_taking_it_out_can_be_undone(village: Village, signed_in):
    with_socks(village)
    before = sentences()
    teacher = signed_in("teacher")

    page = press(teacher, address(village, "part-own-out", 2))
    assert "The questions are changed." in page
    assert sentences() == before[:2]

    put_back = reverse("tasks:plan-put-back", args=[village.robins.pk, MONDAY])
    press(teacher, f"{put_back}?version={DayPlan.objects.get().version}")
    assert sentences() == before


def test_a_version_for_a_group_has_it_too(village: Village, signed_in):
    task = with_socks(village)
    press(signed_in("teacher"), address(village, "part-for-groups"), groups=village.bens_group.pk)

    assert sentences(Task.objects.exclude(pk=task.pk).get())[-1] == SOCKS["sentence"]


def test_a_day_that_families_sent_work_for_keeps_what_they_saw(village: Village):
    task = with_socks(village)
    plan = gone_out(DayPlan.objects.get())
    send_work(village, plan, task)
    before = keys(task)

    with pytest.raises(planning.PlanningError, match="stay as they are"):
        by_hand.take_out_own(task, 2, seen(village, DayPlan.objects.get()))
    assert DayPlan.objects.get().taken_out  # the change before could be undone until then
    with pytest.raises(planning.PlanningError, match="stay as they are"):
        planning.put_back(plan, seen(village, DayPlan.objects.get()))

    assert keys(task) == before


def test_a_question_that_is_kept_is_used_again_and_taken_off_the_list(village: Village, signed_in):
    drafted(village, choice=HALVING)
    teacher = signed_in("teacher")
    press(teacher, address(village), **SOCKS, keep="on")
    kept = OwnPrompt.objects.get()

    page = teacher.get(f"{address(village)}&kept={kept.pk}").content.decode()
    assert SOCKS["sentence"] + "</textarea>" in page
    assert "6 counters" in page

    page = press(teacher, address(village, "own-remove", kept.pk))
    assert "It is off your list." in page
    assert not OwnPrompt.objects.exists()
    assert SOCKS["sentence"] in sentences()


def test_nobody_else_finds_a_question_that_was_kept(village: Village, signed_in):
    drafted(village, choice=HALVING)
    press(signed_in("teacher"), address(village), **SOCKS, keep="on")
    kept = OwnPrompt.objects.get()

    lead = signed_in("lead")
    assert "My own questions</h2>" not in lead.get(address(village)).content.decode()
    assert lead.get(f"{address(village)}&kept={kept.pk}").status_code == 404
    assert lead.post(address(village, "own-remove", kept.pk)).status_code == 404
    assert OwnPrompt.objects.visible_to(village.people["other teacher"]).count() == 0

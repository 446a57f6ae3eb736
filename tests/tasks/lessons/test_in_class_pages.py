"""The page before the class: the plan alone, for staff of the class alone."""

import pytest
from django.test import Client
from django.urls import reverse

from portal.people.models import Group
from tasks.plans import planning
from tasks.plans.defaults import usual_day
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, empty_day, gone_out, queries_of, seen, send_work
from tests.village import MONDAY, Village

HALVING = Choice("halving", 10, 3, "core")


def in_class(village: Village, more: str = "") -> str:
    return reverse("tasks:in-class", args=[village.robins.pk, MONDAY]) + more


def read(client: Client, address: str) -> str:
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()


def test_the_questions_of_the_day_stand_in_its_order_with_their_answers_and_words_to_say(
    village: Village, signed_in
):
    plan = empty_day(village)
    planning.draft_day(plan, usual_day("halving-number-sentence", 10), seen(village, plan))

    page = read(signed_in("teacher"), in_class(village))

    (plan,) = village.robins.day_plans.all()
    tasks = sorted(plan.tasks.all(), key=lambda task: task.position)
    rows = [row for task in tasks for row in task.prompts.all()]
    assert len(rows) > 5
    at = 0
    for row in rows:  # each after the one before
        at = page.index(f">{row.sentence}</h2>", at) + 1
        assert row.spoken in page
    assert "What does this sign tell us to do?" in page


def test_what_is_done_together_has_no_answer_to_uncover(village: Village, signed_in):
    drafted(village, "warm_up", choice=Choice("counting-aloud-in-ones", 10, 1, "core"))

    assert "scene-answer" not in read(signed_in("teacher"), in_class(village))


def test_a_number_sentence_is_uncovered_whole_and_a_story_by_its_number_alone(
    village: Village, signed_in
):
    drafted(village, choice=Choice("story-problems", 10, 1, "core"))
    drafted(village, "quick_recall", choice=Choice("doubling", 10, 1, "core"))
    (plan,) = village.robins.day_plans.all()
    rows = {task.part: task.prompts.get() for task in plan.tasks.all()}
    story, double = rows["main_task"], rows["quick_recall"]

    page = read(signed_in("teacher"), in_class(village))

    assert f"<p>{story.prompt.answer}</p></details>" in page
    whole = double.sentence.replace("□", str(double.prompt.answer))
    assert f"<p>{whole}</p></details>" in page


def test_a_group_is_shown_its_own_version_where_it_is_chosen(village: Village, signed_in):
    drafted(village)
    own = Choice("one-more", 10, 2, "with support")
    plan = drafted(village, choice=own, group=village.bens_group)
    of_class = plan.tasks.get(group=None).prompts.first().sentence
    of_group = plan.tasks.get(group=village.bens_group).prompts.first().sentence
    teacher = signed_in("teacher")

    whole = read(teacher, in_class(village))
    part = read(teacher, in_class(village, f"?group={village.bens_group.pk}"))

    assert of_class in whole
    assert of_group not in whole
    assert of_group in part
    assert of_class not in part
    assert teacher.get(in_class(village, "?group=9999")).status_code == 404


def test_nothing_of_a_child_stands_on_the_classs_screen(village: Village, signed_in):
    plan = gone_out(drafted(village, "main_task", "warm_up", choice=HALVING))
    drafted(village, choice=Choice("one-more", 10, 2, "core"), group=village.bens_group)
    task = plan.tasks.filter(group=None).first()
    submission = send_work(village, plan, answers_to=task)
    submission.answers.update(text="nineteen spoons")
    plan.note = "A word to Ben’s and Aisha’s families"
    plan.save()

    page = read(signed_in("teacher"), in_class(village))

    for word in ("Aisha", "Ben", "nineteen spoons", "Teacher", "A word to"):
        assert word not in page


def test_what_the_portal_has_to_tell_stays_for_the_next_page(village: Village, signed_in):
    drafted(village)
    teacher = signed_in("teacher")
    Group.objects.filter(pk=village.bens_group.pk).update(name="Aisha and Ben")
    teacher.post(reverse("tasks:group-remove", args=[village.robins.pk, village.bens_group.pk]))

    assert "Aisha and Ben" not in read(teacher, in_class(village))
    assert "Aisha and Ben" in read(
        teacher, reverse("tasks:plan-day", args=[village.robins.pk, MONDAY])
    )


@pytest.mark.parametrize("role", ["family", "other teacher", "office", "foreign lead"])
def test_only_staff_of_the_class_can_show_its_day(village: Village, signed_in, role: str):
    gone_out(drafted(village))

    assert signed_in("assistant").get(in_class(village)).status_code == 200
    assert signed_in(role).get(in_class(village)).status_code == 404


def test_a_day_that_nobody_planned_is_not_there(village: Village, signed_in):
    assert signed_in("teacher").get(in_class(village)).status_code == 404


def test_the_day_leads_to_the_class_only_where_there_is_something_to_show(
    village: Village, signed_in
):
    day = reverse("tasks:plan-day", args=[village.robins.pk, MONDAY])
    assert "Show in class" not in read(signed_in("teacher"), day)
    drafted(village)
    assert in_class(village) in read(signed_in("assistant"), day)


def test_a_question_the_program_no_longer_knows_is_shown_as_it_was_written(
    village: Village, signed_in
):
    plan = drafted(village)
    row = plan.tasks.get().prompts.first()
    row.data = {"kind": "moons"}
    row.sentence = "half of a moon = □"
    row.save()

    assert "half of a moon" in read(signed_in("teacher"), in_class(village))


def test_the_class_costs_the_same_queries_whatever_is_on_the_day(village: Village, signed_in):
    plan = drafted(village)
    teacher = signed_in("teacher")
    with_one_part = queries_of(teacher, in_class(village))

    planning.draft_day(plan, usual_day("halving", 10), seen(village, plan))

    assert queries_of(teacher, in_class(village)) == with_one_part

"""A teacher's own question in a real browser: typed, seen drawn, set, answered, looked at."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from evidence.models import Submission
from tasks.models import DayPlan, Task
from tasks.numberwork.by_hand.own import own_prompt
from tasks.plans import by_hand
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.tasks.builders import DOUBLING, drafted, gone_out, seen
from tests.village import Village
from tests.walking import go_to


@pytest.fixture
def village(transactional_db: None) -> Village:
    """Return the village to a server that runs beside the test."""
    return Village.build()


def test_a_question_of_ones_own_goes_round_the_loop(village: Village, opened: Opener):
    today = village.school.today()
    task = drafted(village, date=today, choice=DOUBLING).tasks.get()
    args = [village.robins.pk, today]
    page = opened("teacher", reverse("tasks:plan-day", args=args))

    page.get_by_text("Change the questions").click()
    page.get_by_role("link", name="My own question").click()
    page.get_by_label("Your question").fill("Fetch 7 spoons. Hide 2. How many do you see?")
    page.get_by_label("Picture").select_option("counters")
    page.get_by_label("Its numbers").fill("7, 2")
    drawn = page.locator("#own-drawn")
    expect(drawn.get_by_role("img", name="7 counters, 2 of them crossed out.")).to_be_visible()
    expect(drawn).to_contain_text("Take knives and other sharp things out of reach first.")
    page.get_by_label("Its numbers").fill("7, 9")
    expect(drawn).to_contain_text("Counters: type how many, 0 to 30")
    page.get_by_label("Its numbers").fill("7, 2")
    page.get_by_label("What is right").fill("5")
    page.get_by_label("Keep it among my own questions").check()
    assert faults_of(page) == []
    page.get_by_role("button", name="Add it").click()
    expect(page.locator(".prompt-sentence").last).to_have_text(
        "Fetch 7 spoons. Hide 2. How many do you see?"
    )
    page.get_by_role("button", name="Set now").click()
    expect(page.locator(".status").first).to_contain_text("families see it")

    row = task.prompts.last()
    family = opened("family", reverse("evidence:send", args=[village.aisha.pk, today]), 360)
    go_to(family, "main-task-4")
    step = family.locator("#main-task-4")
    expect(step.get_by_role("img", name="7 counters, 2 of them crossed out.")).to_be_visible()
    step.get_by_role("button", name="5", exact=True).click()
    expect(step.locator("input")).to_have_value("5")
    go_to(family, "send")
    family.get_by_role("button", name="Send", exact=True).click()
    family.wait_for_url("**/sent/*/")
    assert row.answers.get().text == "5"

    work = Submission.objects.get()
    looked = opened("teacher", reverse("assessment:look", args=[work.token]))
    expect(looked.locator(".prompts tr", has_text="Fetch 7 spoons")).to_contain_text("right")


def test_a_question_of_one_long_word_stays_on_a_small_phone(village: Village, opened: Opener):
    plan = drafted(village, date=village.school.today(), choice=DOUBLING)
    word = own_prompt("M" * 160, how="choices", right="W" * 20, choices=f"{'W' * 20}, {'Q' * 20}")
    by_hand.add_own(plan.tasks.get(), word, None, seen(village, plan))
    gone_out(DayPlan.objects.get())

    page = opened("family", reverse("evidence:send", args=[village.aisha.pk, plan.date]), 360)
    go_to(page, "main-task-4")
    expect(page.locator("#main-task-4")).to_be_visible()

    assert page.evaluate("document.documentElement.scrollWidth") == 360


def test_the_picture_is_drawn_without_scripts_too(village: Village, opened: Opener):
    plan = drafted(village, choice=DOUBLING)
    args = [village.robins.pk, plan.date, plan.tasks.get().pk]
    page = opened("teacher", reverse("tasks:part-own", args=args), 390, scripts=False)

    page.get_by_label("Your question").fill("How many?")
    page.get_by_label("Picture").select_option("ten-frame")
    page.get_by_label("Its numbers").fill("8")
    page.get_by_role("button", name="See it").click()

    expect(page.locator("#own-drawn").get_by_role("img")).to_be_visible()
    expect(page.get_by_label("Your question")).to_have_value("How many?")
    assert Task.objects.get().prompts.count() == 3
    assert DayPlan.objects.get().version == plan.version

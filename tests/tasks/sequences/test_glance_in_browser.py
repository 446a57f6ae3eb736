"""Two weeks in one view, questions ticked, groups ticked and a day walked through, in a browser."""

import datetime as dt

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from portal.people.models import Closure, Group
from tasks.models import Task
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.tasks.builders import drafted, drafted_week
from tests.village import MONDAY, Village


@pytest.fixture
def village(transactional_db: None) -> Village:
    """Return the village to a server that runs beside the test."""
    return Village.build()


def test_ten_days_stand_in_one_view_with_counters_of_one_size(village: Village, opened: Opener):
    training = MONDAY + dt.timedelta(days=8)
    Closure.objects.create(school=village.school, name="Training", first=training, last=training)
    sequence = drafted_week(village, "halving", days=10, first=MONDAY + dt.timedelta(days=1))
    where = reverse("tasks:sequence", args=[village.robins.pk, sequence.pk])

    page = opened("teacher", where, 1280, height=800)

    cards = page.locator(".glance-day.slip")
    expect(cards).to_have_count(10)
    assert (
        max(box["y"] + box["height"] for box in (each.bounding_box() for each in cards.all())) < 800
    )
    sizes = page.eval_on_selector_all(
        ".glance-picture circle[fill=currentColor]",
        "all => all.map((each) => Math.round(each.getBoundingClientRect().width * 10))",
    )
    assert len(sizes) > 10
    assert len(set(sizes)) == 1


def test_on_a_phone_the_days_stand_one_below_another(village: Village, opened: Opener):
    sequence = drafted_week(village, "halving", days=10)
    where = reverse("tasks:sequence", args=[village.robins.pk, sequence.pk])

    page = opened("teacher", where, 390)

    lefts = {box["x"] for box in (e.bounding_box() for e in page.locator(".glance-day").all())}
    assert len(lefts) == 1
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert faults_of(page) == []


def test_the_questions_of_another_kind_are_there_to_tick_at_once(village: Village, opened: Opener):
    task = drafted(village).tasks.get()
    where = reverse("tasks:part-change", args=[village.robins.pk, MONDAY, task.pk])
    page = opened("teacher", where)

    page.locator("details.which summary").click()
    expect(page.get_by_label("double 4", exact=True)).to_be_visible()
    page.select_option("#id_kind", "halving")
    page.get_by_label("half of 8", exact=True).check()
    page.fill("#id_count", "2")
    assert faults_of(page) == []
    page.get_by_role("button", name="Save, with new questions").click()

    expect(page.locator(".part")).to_have_count(1)
    assert {row.data["fact"] for row in Task.objects.get().prompts.all()} == {"8"}


def test_two_groups_are_ticked_and_get_their_version_in_one_press(village: Village, opened: Opener):
    drafted(village)
    Group.objects.create(school_class=village.robins, name="Pears", depth="challenge")
    page = opened("teacher", reverse("tasks:plan-day", args=[village.robins.pk, MONDAY]), 390)

    page.get_by_text("Change the questions").click()
    page.get_by_label("Apples (easier)").check()
    page.get_by_label("Pears (harder)").check()
    assert faults_of(page) == []
    page.get_by_role("button", name="Give it to them").click()

    expect(page.locator(".part-of-group")).to_have_count(2)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".part-of-group")).to_have_count(0)


def test_a_day_is_walked_through_one_screen_at_a_time_without_scripts(
    village: Village, opened: Opener
):
    drafted(village)
    where = reverse("tasks:plan-preview", args=[village.robins.pk, MONDAY])
    page = opened("teacher", where, 390, scripts=False)
    shown = page.locator(".preview-walk .step:visible")

    expect(shown).to_have_count(1)
    expect(shown).to_contain_text("Have ready")
    shown.get_by_role("link", name="Next").click()
    expect(shown).to_have_count(1)
    expect(shown).to_contain_text("1 of 3")
    for _screen in range(3):
        shown.get_by_role("link", name="Next").click()
    expect(shown).to_contain_text("That is enough for today")
    expect(page.locator(".card-part:visible")).to_have_count(0)

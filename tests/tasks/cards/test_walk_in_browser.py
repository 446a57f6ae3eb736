"""A day as families walk through it: one prompt a screen, answered there, sent at the end."""

import re

import pytest
from playwright.sync_api import Page, expect

from evidence.models import Submission
from tasks.models import DayPlan
from tasks.plans.planning import Seen, draft_day
from tasks.plans.prompt_selection import Choice
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.tasks.builders import gone_out
from tests.village import Village
from tests.walking import first_number, go_to

pytestmark = pytest.mark.django_db(transaction=True)
PHONE, SMALL, SHORT = 360, 320, 640
TALLEST = 1.3  # screens of a small phone
DAY = {
    "warm_up": Choice("counting-aloud-in-ones", 20, 1, "core"),
    "main_task": Choice("halving", 20, 3, "core"),
    "quick_recall": Choice("odd-or-even", 10, 1, "core"),
    "try_at_home": Choice("ordering", 10, 1, "core"),
}


@pytest.fixture
def plan(village: Village) -> DayPlan:
    """Let a short day be set for today: a count, halving, a choice and an order."""
    day = DayPlan(school_class=village.robins, date=village.school.today())
    draft_day(day, DAY, Seen(0, village.people["teacher"]))
    return gone_out(DayPlan.objects.get(date=day.date))


def begin(page: Page) -> None:
    """Begin on the card, and be where it says what to have ready."""
    page.get_by_role("link", name="Begin").click()
    page.wait_for_url("**#ready")
    expect(page.locator("#ready")).to_be_visible()
    assert at(page) == "ready"


def at(page: Page) -> str:
    """Return the name of the screen that is shown."""
    shown = page.locator(".step:visible")
    expect(shown).to_have_count(1)
    return shown.get_attribute("id")


def on(page: Page) -> str:
    """Go on, and return the name of the screen that comes."""
    page.locator(".step:visible .walk-on a").last.click()
    return at(page)


def test_what_is_answered_on_the_way_outlives_the_page_and_goes_with_send(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", "/today/", PHONE)
    begin(page)
    assert on(page) == "warm-up-1"
    expect(page.locator(".step:visible input")).to_have_count(0)  # the count is said aloud
    main = on(page)
    page.get_by_role("button", name="4", exact=True).click()
    expect(page.locator(f"[data-step={main}]")).to_have_class("done")
    page.wait_for_timeout(500)
    page.reload()
    expect(page.locator(f"#{main} input")).to_have_value("4")
    on(page), on(page)
    assert on(page) == "send"
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url("**/sent/*/")

    (answer,) = Submission.objects.get(day_plan=plan).answers.all()
    assert (main, answer.text) == ("main-task-1", "4")
    assert answer.prompt.task.part == "main_task"


def test_without_scripts_each_screen_is_there_by_its_address_and_send_takes_all(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", "/today/", PHONE, scripts=False)
    begin(page)
    on(page), on(page)
    page.locator(".step:visible input").fill("3")
    page.locator(".step:visible input").press("Enter")  # sends nothing before its time
    on(page), on(page)
    assert on(page) == "send"
    page.get_by_role("link", name=re.compile("A little more")).click()
    page.locator(".step:visible .choice").first.click()
    on(page), on(page)
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url(re.compile("/sent/"))

    answers = Submission.objects.get(day_plan=plan).answers.all()
    assert len(answers) == 2
    assert answers[0].text == "3"


def test_who_left_half_way_goes_on_there_or_begins_again(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", "/today/", PHONE)
    expect(page.get_by_role("link", name="Go on")).to_have_count(0)
    begin(page)
    on(page), on(page)
    page.get_by_role("button", name="4", exact=True).click()
    left = on(page)
    place = page.locator(f"#{left} [data-place]").inner_text()
    page.wait_for_timeout(500)
    page.get_by_role("link", name="Leave").click()

    expect(page.get_by_text("Not sent yet")).to_be_hidden()  # it is told once
    assert faults_of(page) == []
    page.get_by_role("link", name="From the start").click()
    expect(page.locator("#ready")).to_be_visible()
    assert at(page) == "ready"
    page.wait_for_selector("form[data-ready]")
    page.wait_for_timeout(500)  # whatever is kept by then takes nothing away
    page.go_back()
    page.get_by_role("link", name=f"Go on at {place}").click()
    expect(page.locator(f"#{left}")).to_be_visible()
    assert at(page) == left
    expect(page.locator("#main-task-1 input")).to_have_value("4")


def test_what_only_the_rest_of_the_day_needs_is_named_where_it_begins(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", f"/children/{village.aisha.pk}/send/{plan.date}/", PHONE)
    go_to(page, "try-at-home-1")
    things = plan.tasks.get(part="try_at_home").fetch
    assert things
    expect(page.locator("#try-at-home-1")).to_contain_text(things, ignore_case=True)


def test_there_are_at_most_three_screens_before_the_first_answer(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", "/today/", PHONE)
    begin(page)
    screens = 2  # today, and this one
    while page.locator(".step:visible input").count() == 0:
        on(page)
        screens += 1
    assert screens - 1 <= 3


def test_no_screen_is_much_taller_than_a_small_phone_nor_wider(
    village: Village, opened: Opener, plan: DayPlan
):
    Submission.objects.create(  # who sends for the first time is told how long work is kept
        child=village.aisha, day_plan=plan, sent_by=village.people["second home"]
    )
    page = opened("second home", f"/children/{village.aisha.pk}/send/{plan.date}/", PHONE)
    for width in (PHONE, SMALL):
        page.set_viewport_size({"width": width, "height": SHORT})
        for name in page.locator(".step").evaluate_all("all => all.map(each => each.id)"):
            go_to(page, name)
            assert at(page) == name
            size = page.evaluate(
                "[document.documentElement.scrollHeight, document.documentElement.scrollWidth]"
            )
            assert size[0] <= TALLEST * SHORT or width == SMALL, name
            assert size[1] <= width, name


def test_numbers_are_put_in_order_by_tapping_and_a_choice_is_taken_back(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", f"/children/{village.aisha.pk}/send/{plan.date}/", PHONE)
    choice = page.locator(".step:has(.step-choices)")
    go_to(page, choice.get_attribute("id"))
    choice.locator(".choice").first.click()
    expect(choice.locator("input").first).to_be_checked()
    choice.locator(".choice").first.click()
    expect(choice.locator("input:checked")).to_have_count(0)
    order = page.locator(".step:has([data-order])")
    go_to(page, order.get_attribute("id"))
    keys = order.locator("[data-order] button[value]")
    numbers = sorted(int(each.inner_text()) for each in keys.all())
    for number in numbers:
        order.get_by_role("button", name=str(number), exact=True).click()
    expect(order.locator("input")).to_have_value(", ".join(map(str, numbers)))
    order.get_by_role("button", name="Rub out").click()
    expect(order.locator("input")).to_have_value("")


def test_a_picture_to_be_glimpsed_is_seen_for_two_seconds_and_the_time_is_kept(
    village: Village, opened: Opener
):
    day = DayPlan(school_class=village.robins, date=village.school.today())
    choices = {**DAY, "main_task": Choice("subitising", 5, 2, "core")}
    draft_day(day, choices, Seen(0, village.people["teacher"]))
    plan = gone_out(DayPlan.objects.get(date=day.date))
    page = opened("second home", f"/children/{village.aisha.pk}/send/{plan.date}/", PHONE)
    page.set_viewport_size({"width": PHONE, "height": SHORT})
    go_to(page, "main-task-1")
    step = page.locator("#main-task-1")
    picture = step.locator(".glimpse .question-picture")
    expect(picture).to_be_hidden()
    step.get_by_role("button", name="Look for 2 seconds").click()
    expect(picture).to_be_visible()
    expect(picture).to_be_hidden(timeout=10_000)
    seen = step.locator("[name^=glimpse-]")
    once = int(seen.input_value())
    assert 2000 <= once < 6000
    step.get_by_role("button", name="Look again").click()
    expect(picture).to_be_visible()
    expect(picture).to_be_hidden(timeout=10_000)
    assert int(seen.input_value()) >= once + 2000
    step.locator("input.answer").fill("3")
    assert page.evaluate("document.documentElement.scrollHeight") <= TALLEST * SHORT
    go_to(page, "send")
    page.get_by_label("Main task, all alone").check()
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url("**/sent/*/")

    answer = Submission.objects.get(day_plan=plan).answers.get()
    assert (answer.text, answer.help) == ("3", "alone")
    assert answer.glimpse >= once + 2000


def test_each_screen_holds_to_the_standard(village: Village, opened: Opener, plan: DayPlan):
    page = opened("second home", f"/children/{village.aisha.pk}/send/{plan.date}/", PHONE)
    first_number(page)
    for name in page.locator(".step").evaluate_all("all => all.map(each => each.id)"):
        go_to(page, name)
        assert faults_of(page) == [], name

"""Planning and the card in a real browser: at a keyboard, on a small phone, without scripts."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tasks.models import DayPlan
from tasks.plans import planning
from tasks.plans.defaults import usual_day
from tasks.plans.planning import Seen
from tasks.plans.prompt_selection import Choice
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.tasks.builders import gone_out
from tests.village import Village


@pytest.fixture
def village(transactional_db: None) -> Village:
    """Return the village to a server that runs beside the test."""
    return Village.build()


def day_of(village: Village, name: str = "plan-day") -> str:
    return reverse(f"tasks:{name}", args=[village.robins.pk, village.school.today()])


def draft_today(village: Village) -> DayPlan:
    plan = DayPlan(school_class=village.robins, date=village.school.today(), version=0)
    planning.draft_day(plan, usual_day("halving", 10), Seen(0, village.people["teacher"]))
    plan = DayPlan.objects.get()
    own = Choice("halving", 10, 3, "with support")
    teacher = village.people["teacher"]
    planning.add_part(plan, "main_task", own, Seen(1, teacher), village.bens_group)
    return DayPlan.objects.get()


def sentences(page: Page) -> list[str]:
    return page.locator(".prompt-sentence").all_inner_texts()


def test_drawing_one_prompt_anew_by_keyboard_keeps_place_focus_and_the_rest(
    village: Village, opened: Opener
):
    draft_today(village)
    page = opened("teacher", day_of(village))
    before = sentences(page)
    button = page.locator("button[id^=another-]").nth(2)
    name = button.get_attribute("id")

    button.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".prompt-sentence").nth(2)).not_to_have_text(before[2])

    after = sentences(page)
    assert [old == new for old, new in zip(before, after, strict=True)].count(False) == 1
    assert page.evaluate("document.activeElement.id") == name


def test_a_day_is_drafted_and_set_without_scripts(village: Village, opened: Opener):
    page = opened("teacher", day_of(village), scripts=False)

    page.select_option("#id_kind", "doubling")
    page.select_option("#id_within", "10")
    page.get_by_role("button", name="Draft it").click()
    expect(page.locator(".part")).to_have_count(5)
    page.get_by_role("button", name="Set now").click()

    expect(page.get_by_text("Set. Families can see it now.")).to_be_visible()


def test_only_the_ranges_of_the_chosen_kind_are_offered(village: Village, opened: Opener):
    page = opened("teacher", day_of(village))

    page.select_option("#id_kind", "subitising")

    offered = page.locator("#id_within option:not([disabled])").all_inner_texts()
    known = page.locator("#id_kind option:checked").get_attribute("data-ranges")
    assert offered == known.split()


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize(
    ("role", "where"),
    [
        ("teacher", "plan-week"),
        ("teacher", "plan-day"),
        ("teacher", "part-add"),
        ("teacher", "plan-preview"),
        ("second home", "today"),
        ("family", "today"),
    ],
)
def test_no_fault_of_access_is_found_and_nothing_runs_off_the_page(
    village: Village, opened: Opener, role: str, where: str, width: int
):
    gone_out(draft_today(village))
    address = {
        "today": reverse("tasks:today"),
        "plan-week": reverse("tasks:plan-week", args=[village.robins.pk]),
    }

    page = opened(role, address.get(where) or day_of(village, where), width)

    assert faults_of(page) == []


def test_the_main_presses_of_a_family_are_large_enough_for_a_thumb(
    village: Village, opened: Opener
):
    gone_out(draft_today(village))

    page = opened("second home", reverse("tasks:today"), 320)

    sizes = page.eval_on_selector_all(
        ".card-today a, .card-whole > summary",
        "all => all.filter(each => each.checkVisibility())"
        ".map(each => each.getBoundingClientRect().height)",
    )
    assert len(sizes) == 3  # to begin, to send at once, and the whole day
    assert min(sizes) >= 44


def test_the_whole_card_can_be_read_without_scripts(village: Village, opened: Opener):
    plan = gone_out(draft_today(village))

    page = opened("second home", reverse("tasks:today"), 320, scripts=False)

    page.get_by_text("The whole day, for the grown-up").click()
    for row in plan.tasks.get(part="main_task", group=None).prompts.all():
        expect(page.get_by_text(row.sentence, exact=True).first).to_be_visible()
    expect(page.get_by_role("link", name="Send Aisha’s work")).to_be_visible()
    expect(page.locator(".listen:visible")).to_have_count(0)


def test_on_a_phone_the_day_can_be_set_from_wherever_one_has_scrolled_to(
    village: Village, opened: Opener
):
    draft_today(village)
    page = opened("teacher", day_of(village), 390)
    button = page.get_by_role("button", name="Set now")
    for end in (0, "document.body.scrollHeight"):
        page.evaluate(f"window.scrollTo(0, {end})")
        expect(button).to_be_in_viewport(ratio=1)
    last = page.get_by_role("link", name="What to do").bounding_box()
    assert last["y"] + last["height"] <= button.bounding_box()["y"]
    assert faults_of(page) == []
    button.click()
    expect(page.get_by_role("heading", name="Families see this")).to_be_visible()

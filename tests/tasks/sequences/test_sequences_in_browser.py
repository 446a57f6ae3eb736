"""Sequences, groups and kinds in a real browser: by keyboard, by dragging, without scripts."""

import datetime as dt

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tasks.models import Sequence, Task
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.tasks.builders import dates_of, drafted_week, own_part
from tests.village import MONDAY, Village

TUESDAY, WEDNESDAY = (MONDAY + dt.timedelta(days=number) for number in (1, 2))


@pytest.fixture
def village(transactional_db: None) -> Village:
    """Return the village to a server that runs beside the test."""
    return Village.build()


def page_of(village: Village, sequence: Sequence) -> str:
    where = reverse("tasks:sequence", args=[village.robins.pk, sequence.pk])
    return f"{where}?parts=open"


def addresses(village: Village) -> dict[str, str]:
    """Return every page that this part of the portal has."""
    sequence = drafted_week(village, "halving", days=10)
    new = reverse("tasks:sequence-new", args=[village.robins.pk])
    return {
        "sequence": page_of(village, sequence).partition("?")[0],
        "parts": page_of(village, sequence),
        "moving": f"{page_of(village, sequence)}&moving=2026-11-24/main_task",
        "new": new,
        "copy": f"{new}?copy={sequence.pk}",
        "week": f"{reverse('tasks:plan-week', args=[village.robins.pk])}?week=2026-W48",
        "empty day": reverse("tasks:plan-day", args=[village.robins.pk, "2026-12-07"]),
        "day": reverse("tasks:plan-day", args=[village.robins.pk, MONDAY]),
        "groups": reverse("tasks:groups", args=[village.robins.pk]),
        "group": reverse("tasks:group", args=[village.robins.pk, village.bens_group.pk]),
        "kinds": reverse("tasks:kinds"),
        "kind": reverse("tasks:kind", args=["halving"]),
    }


@pytest.mark.parametrize("width", [320, 1280])
def test_no_fault_of_access_is_found_and_nothing_runs_off_the_page(
    village: Village, opened: Opener, width: int
):
    pages = addresses(village)
    page = opened("teacher", pages["sequence"], width)
    site = page.url.removesuffix(pages["sequence"])

    faults = {}
    for name, address in pages.items():
        page.goto(site + address)
        faults[name] = faults_of(page)

    assert {name: found for name, found in faults.items() if found} == {}


def test_two_parts_are_swapped_by_keyboard_alone_and_focus_stays_in_sight(
    village: Village, opened: Opener
):
    sequence = drafted_week(village, "adding")
    before = own_part(sequence, MONDAY).pk
    page = opened("teacher", page_of(village, sequence))

    page.locator("#swap-2026-11-23main_task").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("choose what it changes places with")).to_be_visible()
    page.locator("#swap-2026-11-25main_task").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("They have changed places.")).to_be_visible()

    assert page.evaluate("document.activeElement.id") == "swap-2026-11-25main_task"
    assert own_part(sequence, WEDNESDAY).pk == before


def test_every_button_can_be_reached_with_the_tab_key(village: Village, opened: Opener):
    sequence = drafted_week(village)
    page = opened("teacher", page_of(village, sequence))

    reached = set()
    for _press in range(250):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.id"))

    buttons = page.eval_on_selector_all(
        "[id^=lock-], [id^=swap-2026]", "all => all.map((each) => each.id)"
    )
    assert len(buttons) == 60
    assert set(buttons) <= reached


def drag(page: Page, place: str, onto: str) -> None:
    grip = page.locator(f'[data-place="{place}"] [data-grip]').first
    grip.drag_to(page.locator(f'[data-place="{onto}"]'), target_position={"x": 60, "y": 20})


def test_a_part_is_dragged_onto_another(village: Village, opened: Opener):
    sequence = drafted_week(village, "adding")
    before = own_part(sequence, MONDAY, "quick_recall").pk
    page = opened("teacher", page_of(village, sequence))

    drag(page, "2026-11-23/quick_recall", "2026-11-24/quick_recall")

    expect(page.get_by_text("They have changed places.")).to_be_visible()
    assert own_part(sequence, TUESDAY, "quick_recall").pk == before


def test_a_day_is_dragged_onto_another(village: Village, opened: Opener):
    sequence = drafted_week(village, "adding")
    before = {part: own_part(sequence, MONDAY, part).pk for part in Task.Part.values}
    page = opened("teacher", page_of(village, sequence))

    drag(page, "2026-11-23", "2026-11-25")

    expect(page.get_by_text("They have changed places.")).to_be_visible()
    assert {part: own_part(sequence, WEDNESDAY, part).pk for part in Task.Part.values} == before


def test_locking_keeps_the_place_on_the_page_and_the_focus(village: Village, opened: Opener):
    sequence = drafted_week(village)
    page = opened("teacher", page_of(village, sequence))

    page.locator("#lock-2026-11-25main_task").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#lock-2026-11-25main_task")).to_contain_text("Unlock")

    assert page.evaluate("document.activeElement.id") == "lock-2026-11-25main_task"
    assert own_part(sequence, WEDNESDAY).locked


def test_a_sequence_is_planned_swapped_and_set_without_scripts(village: Village, opened: Opener):
    new = reverse("tasks:sequence-new", args=[village.robins.pk])
    page = opened("teacher", new, scripts=False)

    page.select_option("#id_focus", "adding")
    page.get_by_role("button", name="Draft it").click()
    expect(page.get_by_role("heading", name="Adding", level=1)).to_be_visible()
    sequence = Sequence.objects.get()
    first, second = dates_of(sequence)[:2]
    before = own_part(sequence, first).pk
    page.get_by_text("All parts of every day").click()
    expect(page.locator("[data-grip]:visible")).to_have_count(0)
    page.locator(f"#swap-{first}main_task").click()
    page.locator(f"#swap-{second}main_task").click()
    expect(page.get_by_text("They have changed places.")).to_be_visible()
    assert own_part(sequence, second).pk == before
    page.get_by_role("button", name="Set it all").click()

    expect(page.get_by_text("5 days are set")).to_be_visible()
    assert not sequence.day_plans.drafts().exists()


def test_the_number_is_asked_for_only_where_a_kind_is_about_one(village: Village, opened: Opener):
    add = reverse("tasks:part-add", args=[village.robins.pk, MONDAY])
    page = opened("teacher", add)

    page.select_option("#id_kind", "halving")
    expect(page.locator("#id_number")).to_be_hidden()
    page.select_option("#id_kind", "number-of-the-day")
    expect(page.locator("#id_number")).to_be_visible()
    page.fill("#id_number", "7")
    page.select_option("#id_part", "number_of_the_day")
    page.get_by_role("button", name="Add it").click()

    expect(page.locator(".part")).to_have_count(1)
    numbers = {row.data["numbers"][0] for row in Task.objects.get().prompts.all()}
    assert numbers == {7}

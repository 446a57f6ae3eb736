"""Words typed where no field is open change nothing, whatever key was pressed before them."""

import sqlite3

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.conftest import DESK
from tests.stack import Stack

pytestmark = [pytest.mark.stack, pytest.mark.proof]
TEACHER = "other-teacher@example.org"
# Every letter and figure, with blanks between, as they may stand in somebody's sentence.
SENTENCES = (
    "Please look: odd grip, so unsure of 5 and 7?",
    "quick brown fox jumps over the lazy dog, vexed. 0123456789",
)
PAGES = ("look/", "plan/", "weeks/", "not-heard-from/", "goals/", "sequences/new/")


@pytest.fixture(scope="module")
def ten_wait(portal: Stack) -> Stack:
    portal.python("tests.journeys.settle_ten")
    return portal


def rows(portal: Stack) -> dict[str, list[tuple]]:
    """Return every row of every table that a page could change."""
    with sqlite3.connect(portal.data / "kitchen-counter.sqlite3") as database:
        names = database.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        kept = [name for (name,) in names if name.startswith(("assessment_", "tasks_"))]
        return {
            name: database.execute(f"SELECT * FROM {name} ORDER BY 1").fetchall() for name in kept
        }


def keys_of(page: Page) -> list[str]:
    """Return the keys of the page that stand alone."""
    keys = page.locator("[data-key]").evaluate_all("all => all.map((each) => each.dataset.key)")
    return [key for key in dict.fromkeys(keys) if len(key) == 1]


def test_no_key_and_no_sentence_after_it_changes_anything(ten_wait, visitor):
    teacher = visitor(DESK)
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go("/classes/2/look/")
    page.get_by_role("link", name="Look at the first").click()
    expect(page.locator("form[data-look]")).to_be_visible()
    before, tried = rows(ten_wait), 0
    for address in (page.url, *(f"{ten_wait.url}/classes/2/{path}" for path in PAGES)):
        assert page.goto(address).ok, address
        for key in keys_of(page):
            for sentence in SENTENCES:
                page.goto(address)
                page.wait_for_load_state("load")
                page.keyboard.press(key)
                page.keyboard.type(sentence)
                page.wait_for_load_state("networkidle")  # a key may have led elsewhere
                tried += 1
        assert rows(ten_wait) == before, address
    assert tried > 40


def test_a_key_that_opens_a_field_puts_the_cursor_into_it(ten_wait, visitor):
    teacher = visitor(DESK)
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go("/classes/2/look/")
    page.get_by_role("link", name="Look at the first").click()
    expect(page.locator("form[data-look]")).to_be_visible()
    page.wait_for_load_state("load")
    page.keyboard.press("l")
    page.keyboard.type("Please look: odd grip")
    field = page.locator("#mark-part textarea, #mark-part input[type=text]")
    expect(field).to_have_value("Please look: odd grip")
    page.keyboard.press("Escape")
    expect(field).to_be_hidden()

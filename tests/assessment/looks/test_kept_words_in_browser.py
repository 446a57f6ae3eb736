"""Nothing that a teacher typed at a piece is lost: it stays in this browser until it is saved."""

import re

import pytest
from django.conf import settings
from django.contrib.sessions.models import Session
from django.test import Client
from playwright.sync_api import Page, expect

from assessment.models import Look
from evidence.models import Submission
from tests.assessment.builders import goal, send, set_day
from tests.tasks.browsing import Opener
from tests.village import Village

pytestmark = pytest.mark.django_db(transaction=True)
WORDS = "Both plates the same, Aisha!"
STEP = "Try it with nine grapes."
SAVE, SAVE_AND_NEXT = "[data-key='Ctrl+s']", "[data-key='Ctrl+Enter']"
TOLD = "Typed before and not saved yet."


@pytest.fixture
def works(village: Village) -> list[Submission]:
    """Return two pieces of work that wait."""
    goal()
    plan = set_day(village.robins)
    return [send(village.aisha, village.first_home, plan, answers="right") for _ in range(2)]


def look_at(work: Submission) -> str:
    """Return the address of the page on which *work* is looked at."""
    return f"/look/{work.token}/"


def type_a_look(page: Page) -> None:
    """Type a reply, a next step and a tag, and wait until they are kept."""
    page.get_by_label("Reply to the child").fill(WORDS)
    page.get_by_label("Next step", exact=True).fill(STEP)
    page.locator("[data-goal] label.choice", has_text="with support").first.click()
    page.wait_for_function(
        """async () => {
          const base = await new Promise((done) => {
            const asked = indexedDB.open("waiting", 1);
            asked.onsuccess = () => done(asked.result);
          });
          const kept = await new Promise((done) => {
            const asked = base.transaction("drafts").objectStore("drafts").getAll();
            asked.onsuccess = () => done(asked.result);
          });
          base.close();
          return JSON.stringify(kept).includes("with support");
        }"""
    )


def is_as_typed(page: Page) -> None:
    """Wait until the page shows what `type_a_look` typed, and says that it is not saved."""
    expect(page.get_by_text(TOLD)).to_be_visible()
    expect(page.get_by_label("Reply to the child")).to_have_value(WORDS)
    expect(page.get_by_label("Next step", exact=True)).to_have_value(STEP)
    expect(page.locator("[data-goal]").first.get_by_label("with support")).to_be_checked()


def test_what_was_typed_is_there_again_after_back_leave_it_and_a_closed_tab(opened: Opener, works):
    page = opened("teacher", look_at(works[0]))
    type_a_look(page)
    page.keyboard.press("Escape")
    page.locator("h1").click()
    page.keyboard.press("k")
    expect(page).to_have_url(re.compile(works[1].token))
    expect(page.get_by_label("Reply to the child")).to_have_value("")
    page.go_back()
    is_as_typed(page)

    beside = page.context.new_page()
    address = page.url
    page.close()
    beside.goto(address)
    is_as_typed(beside)


def test_what_is_saved_or_thrown_away_does_not_come_back(opened: Opener, works):
    page = opened("teacher", look_at(works[0]))
    type_a_look(page)
    page.reload()
    page.get_by_role("button", name="Throw it away").click()
    expect(page.get_by_label("Reply to the child")).to_have_value("")
    expect(page.get_by_text(TOLD)).to_be_hidden()

    type_a_look(page)
    page.locator(SAVE).click()
    expect(page.get_by_text("Saved for Aisha K.")).to_be_visible()
    Look.objects.update(reply="As somebody else put it")
    page.goto(page.url.split("/classes")[0] + look_at(works[0]))
    expect(page.get_by_label("Reply to the child")).to_have_value("As somebody else put it")
    expect(page.get_by_text(TOLD)).to_be_hidden()


@pytest.mark.parametrize("button", [SAVE, SAVE_AND_NEXT])
def test_a_save_after_the_session_ended_says_so_and_goes_on_after_a_new_sign_in(
    opened: Opener, village: Village, works, button
):
    page = opened("teacher", look_at(works[0]))
    page.wait_for_load_state("networkidle")
    type_a_look(page)
    Session.objects.all().delete()
    page.locator(button).click()
    expect(page.get_by_text("You are signed out, so it is not saved.")).to_be_visible()
    expect(page.get_by_label("Reply to the child")).to_have_value(WORDS)
    assert not Look.objects.exists()

    again = Client()
    again.force_login(village.people["teacher"])
    key = again.cookies[settings.SESSION_COOKIE_NAME].value
    here = page.url.split("/look")[0]
    page.context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": key, "url": here}])
    page.locator(button).click()
    expect(page.get_by_text("Saved for Aisha K.")).to_be_visible()
    assert Look.objects.get().reply == WORDS


def test_signing_out_asks_first_and_takes_it_off_a_computer_that_others_use(
    opened: Opener, village: Village, works
):
    page = opened("teacher", look_at(works[0]))
    type_a_look(page)
    page.goto(page.url.split("/look")[0] + f"/classes/{village.robins.pk}/look/")
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_text("Signing out takes it off this computer")).to_be_visible()
    page.get_by_role("button", name="Back to it").click()
    page.goto(page.url.split("/classes")[0] + look_at(works[0]))
    is_as_typed(page)

    page.get_by_role("button", name="Sign out").click()
    page.get_by_role("button", name="Sign out, and take it off").click()
    expect(page.get_by_text("You have signed out.")).to_be_visible()
    assert page.evaluate("indexedDB.databases().then((all) => all.length)") == 0


def test_somebody_else_who_signs_in_here_finds_nothing_of_it(opened: Opener, village, works):
    page = opened("teacher", look_at(works[0]))
    type_a_look(page)
    other = Client()
    other.force_login(village.people["assistant"])
    key = other.cookies[settings.SESSION_COOKIE_NAME].value
    here = page.url.split("/look")[0]
    page.context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": key, "url": here}])
    page.reload()
    page.wait_for_load_state("networkidle")
    expect(page.get_by_label("Reply to the child")).to_have_value("")
    expect(page.get_by_text(TOLD)).to_be_hidden()

"""Ten pieces looked at by keyboard alone, a save that fails, and a reply that is spoken."""

import re
import sqlite3
import sys

import pytest
from playwright.sync_api import Page, expect

from tests import browsers
from tests.journeys.conftest import DESK, Visitor
from tests.stack import Stack, wait_for

pytestmark = pytest.mark.stack
TEACHER = "other-teacher@example.org"
LIST = "/classes/2/look/"
MOST_PRESSES = 3
# From the key to the next piece painted, for each save that did not load a page anew.
CLOCK = """
window.waits = [];
let pressed = 0;
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey && event.key === "Enter") pressed = performance.now();
}, true);
document.addEventListener("portal:changed", () => {
  if (!pressed) return;
  const began = pressed;
  pressed = 0;
  requestAnimationFrame(() => requestAnimationFrame(() => {
    window.waits.push(performance.now() - began);
  }));
});
"""


@pytest.fixture(scope="module")
def ten_wait(portal: Stack) -> Stack:
    portal.python("tests.journeys.settle_ten")
    return portal


def say(words: str) -> None:
    """Show a figure of this run."""
    sys.stdout.write(f"\n{words}\n")


def in_database(portal: Stack, question: str) -> list[tuple]:
    """Ask the portal's database."""
    with sqlite3.connect(portal.data / "kitchen-counter.sqlite3") as database:
        return database.execute(question).fetchall()


def heading(page: Page) -> str:
    """Return the child the page is about."""
    return page.locator("h1").inner_text()


def wait_until_ahead(page: Page) -> None:
    """Wait until the next piece is fetched, as it is while a teacher reads."""
    page.wait_for_load_state("networkidle")


def test_ten_pieces_take_three_keys_each(ten_wait, visitor):
    teacher = visitor(DESK)
    teacher.context.add_init_script(CLOCK)
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go(LIST)
    page.keyboard.press("l")
    expect(page.locator("h1")).to_have_text("Ada Q")
    presses, seen = [], []
    for number in range(10):
        wait_until_ahead(page)
        seen.append(heading(page))
        keys = ["5", "a", "Control+Enter"]
        for key in keys:
            page.keyboard.press(key)
        presses.append(len(keys))
        if number < 9:
            expect(page.locator("h1")).not_to_have_text(seen[-1])
    expect(page.get_by_text("Nothing waits.")).to_be_visible()
    looks = in_database(
        ten_wait,
        "SELECT reply, (SELECT count(*) FROM assessment_tag t"
        " WHERE t.submission_id = l.submission_id) FROM assessment_look l ORDER BY l.id DESC",
    )[:10]
    replies = sorted(reply for reply, _tags in looks)
    assert [reply.split(", ")[1].split(".")[0] for reply in replies] == sorted(
        name.split()[0] for name in seen
    )
    # Three of them doubled where halving was asked: nothing is suggested for these.
    assert sum(tags >= 1 for _reply, tags in looks) == 7
    assert max(presses) <= MOST_PRESSES
    say(f"{len(presses)} pieces looked at, {sum(presses)} keys, at most {max(presses)} each")


def test_the_next_piece_is_on_screen_at_once_and_the_last_can_be_undone(ten_wait, visitor):
    teacher = visitor(DESK)
    teacher.context.add_init_script(CLOCK)
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go(f"{LIST}?show=all&order=longest")
    page.get_by_role("link", name="Ada Q").click()
    page.get_by_role("button", name="Take it back").click()
    teacher.go(f"{LIST}?show=all&order=longest")
    page.get_by_role("link", name="Bea Q").click()
    page.get_by_role("button", name="Take it back").click()
    page.goto(f"{ten_wait.url}{LIST}")
    page.keyboard.press("l")
    expect(page.locator("h1")).to_have_text("Ada Q")
    wait_until_ahead(page)
    page.keyboard.press("Control+Enter")
    expect(page.locator("h1")).to_have_text("Bea Q")
    expect(page.get_by_text("Saved for Ada Q.")).to_be_visible()
    waits = page.evaluate("window.waits")
    assert len(waits) == 1, "the page was loaded anew"
    say(f"the next piece was on screen {waits[0]:.0f} ms after the key")
    page.keyboard.press("Control+z")
    expect(page.locator("h1")).to_have_text("Ada Q")
    expect(page.get_by_text("This piece waits again.")).to_be_visible()


def test_a_save_that_does_not_get_through_brings_the_piece_back_as_it_was(ten_wait, visitor):
    teacher = visitor(DESK)
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go(LIST)
    page.keyboard.press("l")
    expect(page.locator("h1")).to_have_text("Ada Q")
    wait_until_ahead(page)
    page.get_by_label("Reply to the child").fill("My own words")
    page.keyboard.press("Escape")
    page.route(
        "**/look/*/",
        lambda route: route.abort() if route.request.method == "POST" else route.continue_(),
    )
    page.keyboard.press("Control+Enter")
    expect(page.get_by_text("Not saved: the portal did not answer.")).to_be_visible()
    expect(page.locator("h1")).to_have_text("Ada Q")
    expect(page.get_by_label("Reply to the child")).to_have_value("My own words")
    page.unroute("**/look/*/")
    wait_until_ahead(page)
    page.keyboard.press("Control+Enter")
    expect(page.locator("h1")).to_have_text("Bea Q")
    expect(page.get_by_text("Saved for Ada Q.")).to_be_visible()
    teacher.complaints[:] = [said for said in teacher.complaints if "ERR_FAILED" not in said]


def test_what_a_colleague_saved_meanwhile_is_shown_beside_ones_own_words(ten_wait, visitor):
    teacher, lead = visitor(DESK), visitor(DESK)
    teacher.sign_in_by_password(TEACHER)
    lead.sign_in_by_password("lead@example.org")
    page = teacher.go(f"{LIST}?show=all&order=longest")
    page.get_by_role("link", name="Ada Q").click()
    if page.get_by_role("button", name="Take it back").count():
        page.get_by_role("button", name="Take it back").click()
    other = lead.go(page.url.replace(ten_wait.url, ""))
    other.get_by_label("Reply to the child").fill("From the lead")
    other.locator("[data-key='Ctrl+s']").click()
    expect(other.get_by_text("Saved for Ada Q.")).to_be_visible()
    wait_until_ahead(page)
    page.get_by_label("Reply to the child").fill("From the teacher")
    page.get_by_role("button", name="Save and next").click()
    expect(page.get_by_text("From the lead").first).to_be_visible()
    expect(page.get_by_label("Reply to the child")).to_have_value("From the teacher")
    expect(page.locator("h1")).to_have_text("Ada Q")
    teacher.complaints[:] = [said for said in teacher.complaints if "409" not in said]


def test_pieces_are_enlarged_and_turned_by_key(ten_wait, visitor):
    teacher = visitor(DESK)
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go(f"{LIST}?show=all&order=longest")
    page.get_by_role("link", name="Cem Q").click()
    picture = page.locator(".large-piece img")
    expect(picture).to_be_visible()
    before = picture.bounding_box()["width"]
    page.keyboard.press("z")
    page.keyboard.press("z")
    assert picture.bounding_box()["width"] > 1.9 * before
    page.keyboard.press("x")
    page.keyboard.press("x")
    page.keyboard.press("t")
    turned = page.evaluate("getComputedStyle(document.querySelector('.large-piece img')).rotate")
    assert turned == "90deg"


def test_keys_are_listed_and_can_be_switched_off(ten_wait, visitor):
    teacher = visitor(DESK)
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go(f"{LIST}?show=all&order=longest")
    page.get_by_role("link", name="Cem Q").click()
    expect(page.get_by_role("heading", level=1, name="Cem Q")).to_be_visible()
    page.wait_for_load_state("load")  # from then on keys are heard
    page.keyboard.press("?")
    listed = page.get_by_role("dialog", name="Keys on this page")
    for words in ("Larger", "Turn", "Record a reply", "Show the lead", "Save and next"):
        expect(listed.get_by_text(words, exact=False).first).to_be_visible()
    listed.get_by_label("Use single keys").uncheck()
    listed.get_by_role("button", name="Close").click()
    before = page.get_by_label("Reply to the child").input_value()
    page.keyboard.press("6")
    assert page.get_by_label("Reply to the child").input_value() == before


def test_a_reply_is_spoken_into_the_browser(ten_wait, browser, browser_program, portal):
    speaking = browsers.launch(browser.browser_type, browser_program, *browsers.HEARING)
    context = speaking.new_context(viewport=DESK, locale="en-GB", permissions=["microphone"])
    teacher = Visitor(portal, context, context.new_page(), [], [])
    teacher.sign_in_by_password(TEACHER)
    page = teacher.go(f"{LIST}?show=all&order=longest")
    page.get_by_role("link", name="Dan Q").click()
    page.get_by_label("Next step").fill("Kept through the recording")
    page.keyboard.press("Escape")
    page.keyboard.press("Control+.")
    expect(page.locator("[data-record-state]")).to_contain_text(
        re.compile("0:0[2-9]"), timeout=40_000
    )
    page.keyboard.press("Control+.")
    expect(page.get_by_label("Your spoken reply")).to_be_visible(timeout=60_000)
    seconds = wait_for(
        lambda: page.evaluate("document.querySelector('.voice-part audio').duration || 0"),
        what="the length of the sound",
    )
    assert 1 < seconds < 10
    assert page.get_by_label("Next step").input_value() == "Kept through the recording"
    page.get_by_role("button", name="Take the voice back").click()
    expect(page.get_by_text("Nobody can hear it.")).to_be_visible()
    page.get_by_role("button", name="Put it back").click()
    expect(page.get_by_label("Your spoken reply")).to_be_visible()
    context.close()
    speaking.close()
    states = in_database(portal, "SELECT state, media_type FROM assessment_voicereply")
    assert states == [("ready", "audio/mp4")]

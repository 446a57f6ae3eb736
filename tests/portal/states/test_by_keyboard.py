"""The main ways through the portal with Tab, Enter and Space alone: seen, not lost, not stuck."""

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Page, expect

from evidence.models import Submission
from tasks.models import DayPlan
from tests.access.scene import Scene
from tests.evidence.builders import jpeg
from tests.portal.states import Group, Look, choose

pytestmark = pytest.mark.django_db(transaction=True)
MOST_STEPS = 150
STILL = (("reduced_motion", "reduce"),)
EMPTY_DAY = "/classes/{class_pk}/plan/2027-03-09/"
# Source: WCAG 2.2, 2.4.7 Focus Visible and 2.4.11 Focus Not Obscured (Minimum).
FOCUS = """() => {
  const at = document.activeElement;
  if (!at || at === document.body) return {name: "", place: -1};
  const ring = (part) => {
    const {outlineStyle, outlineWidth} = getComputedStyle(part);
    return outlineStyle !== "none" && parseFloat(outlineWidth) >= 2;
  };
  const label = at.closest("label");
  const {left, top, width, height} = at.getBoundingClientRect();
  const over = document.elementFromPoint(left + width / 2, top + height / 2);
  const places = [...document.querySelectorAll("*")];
  return {
    place: places.indexOf(at),
    name: (at.ariaLabel || at.labels?.[0]?.textContent || at.textContent.trim() ||
      at.querySelector("img")?.alt || at.name || at.tagName)
      .replace(/\\s+/g, " ").trim(),
    seen: ring(at) || Boolean(label && ring(label)),
    bare: !over || at.contains(over) || Boolean(over.closest("label")?.contains(at)),
  };
}"""
TABBED = """() => {
  const able = "a[href], button, input:not([type=hidden]), select, textarea, summary," +
    "audio[controls], video[controls]";
  const rings = new Set();
  return [...document.querySelectorAll(able)].filter((part) => {
    if (part.disabled || part.tabIndex < 0 || !part.checkVisibility()) return false;
    if (part.type !== "radio") return true;
    return !rings.has(part.name) && rings.add(part.name);
  }).length;
}"""


@pytest.fixture
def at_keyboard(scene: Scene, seat) -> Callable[..., Page]:
    """Return a function that opens a page as one of the village's people."""

    def open_page(role: str, address: str, width: int = 360) -> Page:
        page = seat(Group(role, role, (), Look(width=width, media=STILL)))
        page.goto(address)
        return page

    return open_page


def steps(page: Page) -> Iterator[str]:
    """Go on by Tab and give the name of each place; ends where the page does."""
    been, last = set(), None
    for _step in range(MOST_STEPS):
        page.keyboard.press("Tab")
        focus = page.evaluate(FOCUS)
        if focus["place"] == last:
            continue  # a player has its own controls within
        if focus["place"] < 0 or focus["place"] in been:
            return
        last = focus["place"]
        been.add(last)
        assert focus["seen"], f"nothing shows that {focus['name']!r} has the focus"
        assert focus["bare"], f"{focus['name']!r} has the focus under something else"
        yield focus["name"]


def tab_to(page: Page, words: str) -> None:
    """Go on by Tab to what is called *words*."""
    passed = []
    for name in steps(page):
        passed.append(name)
        if re.search(words, name):
            return
    raise AssertionError(f"{words!r} is not come to by Tab, only {passed}")


def name_of_focus(page: Page) -> str:
    """Return what has the focus now."""
    return page.evaluate(FOCUS)["name"]


def send_address(scene: Scene) -> str:
    return scene.address("evidence:send")


def go_on(page: Page) -> None:
    """Go to the next screen of the walk, which takes the focus."""
    tab_to(page, "^Next$")
    page.keyboard.press("Enter")
    wait_for_step(page)


def wait_for_step(page: Page) -> None:
    """Wait until the screen that was asked for has the focus: a browser gives it after it draws."""
    page.wait_for_function("() => document.activeElement.matches('.step.here')")


def test_a_family_sends_answers_and_a_note_by_keyboard_alone(scene, at_keyboard):
    page = at_keyboard("family", "/today/")
    tab_to(page, "Open Aisha’s card")
    page.keyboard.press("Enter")
    page.wait_for_url("**/card/**")
    tab_to(page, "Begin")
    page.keyboard.press("Enter")
    page.wait_for_selector("form[data-ready]")
    wait_for_step(page)
    go_on(page)
    while page.locator(".step.here input[inputmode]").count() == 0:
        go_on(page)
    page.locator(".step.here input[inputmode]").press("Tab")
    page.keyboard.press("Shift+Tab")
    page.keyboard.type("4")
    page.keyboard.press("Enter")
    while page.locator("#send.here").count() == 0:
        go_on(page)
    tab_to(page, "all alone")
    page.keyboard.press("ArrowDown")  # a row of choices is one stop
    tab_to(page, "More to say")
    page.keyboard.press("Space")
    tab_to(page, "A word to the teacher")
    page.keyboard.type("We used spoons.")
    tab_to(page, "^Send$")
    page.keyboard.press("Enter")
    page.wait_for_url("**/sent/*/")

    sent = Submission.objects.get(day_plan__date=scene.arguments["date"])
    assert (sent.note, sent.help) == ("We used spoons.", "a little")
    assert [answer.text for answer in sent.answers.all()] == ["4"]


def test_an_honest_answer_is_given_and_taken_back_by_keyboard_alone(scene, at_keyboard):
    page = at_keyboard("second home", scene.address("tasks:card"))
    tab_to(page, "We could not do it")
    page.keyboard.press("Enter")
    expect(page.get_by_text("That is fine.")).to_be_visible()
    page.wait_for_load_state("load")  # only then does the focus stay where a key puts it
    tab_to(page, "Take this back")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="We could not do it")).to_be_visible()


@pytest.mark.parametrize(
    ("role", "name"),
    [
        ("family", "tasks:card"),
        ("family", "evidence:send"),
        ("family", "privacy:family"),
        ("teacher", "tasks:plan-day"),
        ("teacher", "assessment:look"),
    ],
)
def test_tab_comes_to_everything_once_and_out_again(scene, at_keyboard, role, name):
    page = at_keyboard(role, scene.address(name), 1280 if role == "teacher" else 360)
    page.wait_for_load_state("networkidle")
    there = page.evaluate(TABBED)
    assert len(list(steps(page))) == there


def test_a_question_takes_the_focus_and_gives_it_back(scene, at_keyboard):
    page = at_keyboard("family", scene.address("evidence:submission"))
    tab_to(page, "Ask the school to delete this")
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog")).to_be_visible()
    assert name_of_focus(page) == "Yes, ask the school"
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    assert name_of_focus(page) == "Ask the school to delete this"


def test_after_a_piece_is_taken_out_the_focus_is_at_the_next_one(scene, at_keyboard):
    page = at_keyboard("second home", send_address(scene))
    for colour in ("red", "blue"):
        choose(jpeg(colour))(page)
    expect(page.locator(".chosen-piece")).to_have_count(2)
    tab_to(page, "^Photo 1")
    page.keyboard.press("Enter")
    tab_to(page, "Photo 1: Remove")
    page.keyboard.press("Enter")
    expect(page.locator(".chosen-piece")).to_have_count(1)
    assert name_of_focus(page).startswith("Photo 1")
    page.keyboard.press("Enter")
    tab_to(page, "Photo 1: Remove")
    page.keyboard.press("Enter")
    expect(page.locator(".chosen-piece")).to_have_count(0)
    assert page.evaluate("document.activeElement.matches('[data-tray]')")


def test_what_is_amiss_with_a_form_has_the_focus(scene, at_keyboard):
    page = at_keyboard("second home", send_address(scene))
    page.wait_for_selector("form[data-ready]")
    tab_to(page, "^Send$")
    page.keyboard.press("Enter")
    expect(page.locator("[data-told]")).to_be_focused()


def test_a_teacher_plans_a_day_by_keyboard_alone(scene, at_keyboard):
    page = at_keyboard("teacher", EMPTY_DAY.format(**scene.arguments), 1280)
    tab_to(page, "Focus|What it is about|Kind")
    page.keyboard.type("Halving")
    tab_to(page, "^Draft it$")
    page.keyboard.press("Enter")
    expect(page.locator(".part")).to_have_count(5)
    tab_to(page, "^Another")
    asked, words = name_of_focus(page), page.locator(".prompt-sentence").first.inner_text()
    page.keyboard.press("Space")
    expect(page.locator(".prompt-sentence").first).not_to_have_text(words)
    assert name_of_focus(page).split(":")[0] == asked.split(":")[0]
    for action in ("^Lock", "^Remove"):
        tab_to(page, action)
        with page.expect_response(lambda answer: answer.request.method == "POST"):
            page.keyboard.press("Enter")
        expect(page.locator(".htmx-request, .htmx-swapping")).to_have_count(0)
        assert page.evaluate("document.activeElement !== document.body"), action
    expect(page.locator(".part")).to_have_count(4)
    tab_to(page, "^Set now$")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Set. Families")).to_be_visible()
    assert DayPlan.objects.get(date="2027-03-09").goes_out_at


def test_skipping_to_the_page_is_the_first_thing_and_skips(scene, at_keyboard):
    page = at_keyboard("family", "/today/")
    page.keyboard.press("Tab")
    assert name_of_focus(page) == "Skip to the page"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")

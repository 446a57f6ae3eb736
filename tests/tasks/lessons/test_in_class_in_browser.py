"""The day before the class in a real browser: by touch, by hand, by keys, without scripts."""

import pytest
from django.urls import reverse
from playwright.sync_api import Browser, Locator, Page, expect

from tasks.plans.prompt_selection import Choice
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.tasks.builders import drafted
from tests.village import MONDAY, Village

SIZES = [(1280, 800), (1920, 1080), (768, 1024), (360, 640)]


@pytest.fixture
def village(transactional_db: None) -> Village:
    """Return the village to a server that runs beside the test."""
    return Village.build()


@pytest.fixture
def shown(village: Village, opened: Opener):
    """Return a function that shows a day before the class: halving, one more, in words alone."""
    drafted(village, "main_task", choice=Choice("halving", 10, 3, "core"))
    drafted(village, "quick_recall", choice=Choice("one-more", 10, 2, "core"))
    drafted(village, "number_of_the_day", choice=Choice("adding", 10, 1, "challenge"))
    address = reverse("tasks:in-class", args=[village.robins.pk, MONDAY])

    def show(width: int = 1280, height: int = 800, **how) -> Page:
        return opened("teacher", address, width, height=height, **how)

    return show


def scene(page: Page) -> Locator:
    return page.locator(".scene:visible")


def things(page: Page) -> Locator:
    return scene(page).locator(".thing")


def lying(page: Page) -> list[tuple[str, str]]:
    return page.evaluate(
        "[...document.querySelectorAll('.scene:not([hidden]) .thing')]"
        ".map(each => each.getAttribute('transform'))"
    )


def on_plates(page: Page) -> list[int]:
    """Count the counters on each plate by where they are seen."""
    return page.evaluate(
        """() => {
          const middle = (each) => {
            const box = each.getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2, box.width / 2];
          };
          const scene = document.querySelector('.scene:not([hidden])');
          const rims = [...scene.querySelectorAll('svg > g:not(.thing) > circle')].map(middle)
            .filter((rim, place) => place % 2 === 0);
          const all = [...scene.querySelectorAll('.thing-edge')].map(middle);
          const on = ([x, y, r]) => all.filter((t) => Math.hypot(t[0] - x, t[1] - y) < r).length;
          return rims.map(on);
        }"""
    )


def middle_of(where: Locator) -> tuple[float, float]:
    box = where.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page: Page, thing: Locator, onto: Locator) -> None:
    page.mouse.move(*middle_of(thing))
    page.mouse.down()
    page.mouse.move(*middle_of(onto), steps=4)
    page.mouse.up()


def plate(page: Page, number: int) -> Locator:
    return scene(page).locator("svg > g:not(.thing) > circle").nth(2 * number)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_no_fault_is_found_and_a_question_fills_the_screen_without_scrolling(
    shown, width: int, height: int
):
    page = shown(width, height)
    following = page.get_by_role("button", name="Next")
    for question in range(6):
        if question:
            following.click()
        expect(page.locator("[data-count]")).to_have_text(f"{question + 1} of 6")
        expect(scene(page)).to_have_count(1)
        assert page.evaluate("document.documentElement.scrollHeight") <= height
        assert faults_of(page) == []
    expect(following).to_be_disabled()


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_a_counter_is_dragged_onto_a_plate_and_put_back(shown, width: int, height: int):
    page = shown(width, height)
    before = lying(page)
    assert on_plates(page) == [0, 0]

    drag(page, things(page).first, plate(page, 0))
    drag(page, things(page).last, plate(page, 1))
    assert on_plates(page) == [1, 1]
    expect(page.locator("[data-said]")).to_contain_text("on plate 2: 1")

    page.get_by_role("button", name="Put back").click()
    assert lying(page) == before


def test_two_fingers_move_two_counters_at_once(shown, village: Village, browser: Browser):
    page = shown(768, 1024)
    touch = page.context.new_cdp_session(page)
    one, other = middle_of(things(page).first), middle_of(things(page).last)
    first, second = middle_of(plate(page, 0)), middle_of(plate(page, 1))

    def send(kind: str, *points: tuple[float, float]) -> None:
        told = [{"x": x, "y": y, "id": place} for place, (x, y) in enumerate(points)]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": told})

    send("touchStart", one, other)
    send("touchMove", first, second)
    send("touchEnd")

    assert on_plates(page) == [1, 1]


def test_the_day_goes_by_keys_alone_and_escape_leads_back_to_it(shown):
    page = shown()
    count = page.locator("[data-count]")
    expect(count).to_have_text("1 of 6")
    for key, at in (("ArrowRight", 2), ("PageDown", 3), ("ArrowLeft", 2), ("PageUp", 1)):
        page.keyboard.press(key)
        expect(count).to_have_text(f"{at} of 6")
    page.keyboard.press("ArrowLeft")  # there is none before the first
    expect(count).to_have_text("1 of 6")

    page.keyboard.press("Escape")
    expect(page.locator(".plan-parts")).to_be_visible()


def test_a_counter_goes_from_plate_to_plate_by_keys_and_says_where_it_is(shown):
    page = shown()
    counter, said = things(page).first, page.locator("[data-said]")
    counter.focus()

    page.keyboard.press("Enter")
    assert on_plates(page) == [1, 0]
    expect(said).to_contain_text("on plate 1. on plate 1: 1. on plate 2: 0")
    page.keyboard.press(" ")
    assert on_plates(page) == [0, 1]

    before = lying(page)[0]
    page.keyboard.press("ArrowUp")
    assert lying(page)[0] != before
    expect(page.locator("[data-count]")).to_have_text("1 of 6")
    expect(counter).to_be_focused()


def test_all_counters_find_room_on_the_plates_by_keys(shown):
    page = shown()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    number = things(page).count()
    for place in range(number):
        things(page).nth(place).focus()
        page.keyboard.press("Enter")

    assert sum(on_plates(page)) == number
    assert len(set(lying(page))) == number


def test_a_frame_takes_a_counter_into_an_empty_square_by_an_arrow(shown):
    page = shown()
    for _question in range(4):
        page.keyboard.press("ArrowRight")
    last = things(page).last
    named = last.get_attribute("aria-label")
    last.focus()
    page.keyboard.press("Enter")
    expect(last).not_to_have_attribute("aria-label", named)
    expect(last).to_have_attribute(
        "aria-label", f"{named.rsplit(' ', 1)[0]} {things(page).count() + 1}"
    )


def test_the_answer_is_covered_until_it_is_pressed_and_again_on_the_next_question(shown):
    page = shown()
    answer = scene(page).locator(".scene-answer > p")
    expect(answer).to_be_hidden()
    scene(page).get_by_text("Answer", exact=True).click()
    expect(answer).to_be_visible()
    scene(page).get_by_text("Answer", exact=True).click()
    expect(answer).to_be_hidden()

    scene(page).get_by_text("Answer", exact=True).click()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    expect(answer).to_be_hidden()


def test_no_hint_of_the_answer_shows_where_the_hand_rests(shown):
    assert shown().locator("svg title, [title]").count() == 0


def test_nothing_is_kept_and_nothing_is_sent_while_the_class_looks(shown):
    page = shown()
    page.wait_for_load_state("networkidle")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))

    drag(page, things(page).first, plate(page, 0))
    scene(page).get_by_text("Answer", exact=True).click()
    scene(page).get_by_text("To say", exact=True).click()
    for _question in range(3):
        page.keyboard.press("ArrowRight")

    assert asked == []
    assert page.evaluate("[localStorage.length, sessionStorage.length]") == [0, 0]


def test_without_scripts_all_questions_stand_under_each_other_with_answers_to_unfold(shown):
    page = shown(scripts=False)
    expect(page.locator(".scene:visible")).to_have_count(6)
    expect(page.locator("button:visible")).to_have_count(0)
    first = page.locator(".scene-answer").first
    first.locator("summary").click()
    expect(first.locator("p")).to_be_visible()
    page.get_by_role("link", name="Back to the day").click()
    expect(page.locator(".plan-parts")).to_be_visible()


def test_the_mat_is_one_sheet_without_answers_and_with_empty_plates(shown):
    page = shown()
    scene(page).get_by_text("Answer", exact=True).click()
    page.emulate_media(media="print")
    expect(page.locator(".scene:visible")).to_have_count(6)
    expect(
        page.locator(".scene-answer:visible, .scene-foot:visible, .class-keys:visible")
    ).to_have_count(0)
    expect(page.locator(".scene-mat .thing:visible")).to_have_count(0)
    page.emulate_media(media=None)
    sheets = page.pdf(prefer_css_page_size=True)
    assert sheets.count(b"/Type /Page\n") == 1

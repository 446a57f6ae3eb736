"""An evening of thirty pieces, by keys alone at a desk and by thumb alone on a phone."""

import re

import pytest
from playwright.sync_api import Page, expect

from assessment.models import Look
from evidence.models import Submission
from tests.assessment.looks.evenings import evening
from tests.tasks.browsing import Opener
from tests.village import Village

pytestmark = pytest.mark.django_db(transaction=True)
MOST_PRESSES = 3  # for a usual piece; leafing to a further picture is one more each
SUGGESTED, SAVE = "[data-use-suggested]", "[data-key='Ctrl+Enter']"
WITH_SUPPORT = "[data-goal] label.choice:has-text('with support')"
BEGUN = "window.sameEvening = true; performance.setResourceTimingBufferSize(5000)"
AHEAD = """() => {
  const next = document.querySelector("[data-following]");
  return !next || performance.getEntriesByName(next.href).length;
}"""


@pytest.fixture(autouse=True)
def own_store(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


def further(work: Submission) -> int:
    """Return how many pictures come after the first."""
    return max(0, work.pieces.count() - 1)


def arrived_at(page: Page, work: Submission) -> None:
    """Wait until *work* is on screen, and the next is fetched ahead, as while a teacher reads."""
    expect(page).to_have_url(re.compile(re.escape(f"/look/{work.token}/")))
    page.wait_for_function(AHEAD)


def by_keys(page: Page, work: Submission) -> int:
    """Look, answer, tag and go on by keys, and count them."""
    use = page.locator(SUGGESTED)
    keys = ["n"] * further(work) + ["5", "a" if use.is_visible() else "2", "Control+Enter"]
    for key in keys:
        page.keyboard.press(key)
    return len(keys)


def by_thumb(page: Page, work: Submission) -> int:
    """Look, answer, tag and go on by taps, and count them."""
    use = page.locator(SUGGESTED)
    taps = [page.locator("[data-tool=next]")] * further(work)
    taps += [use if use.is_visible() else page.locator(WITH_SUPPORT).first]
    taps += [page.locator("[data-phrase]").first, page.locator(SAVE)]
    for part in taps:
        part.tap()
    return len(taps)


def comes_early(page: Page, touch: bool) -> None:
    """Hold that a picture is whole in view at a desk, and begins in the upper half of a phone."""
    picture = page.locator(".large-piece:visible .piece-frame")
    if not picture.count():
        return
    box, height = picture.bounding_box(), page.viewport_size["height"]
    if touch:
        further_line = 24 if page.get_by_text("Posted by staff").count() else 0
        assert box["y"] <= height / 2 + further_line
    else:
        assert box["y"] + box["height"] <= height


def all_is_said(works: list[tuple[str, Submission]]) -> None:
    """Hold that each piece was answered and tagged, all of them."""
    looks = {look.submission_id: look for look in Look.objects.all()}
    for name, work in works:
        assert looks[work.pk].reply, name
        assert work.tags.exists(), name


@pytest.mark.parametrize(
    ("look_at", "size", "touch"),
    [(by_keys, (1280, 800), False), (by_thumb, (390, 740), True)],
    ids=["keys", "thumb"],
)
def test_an_evening_takes_three_presses_a_piece_and_loads_no_page_anew(
    opened: Opener, village: Village, look_at, size: tuple[int, int], touch: bool
):
    works = evening(village)
    page = opened("teacher", f"/look/{works[0][1].token}/", size[0], height=size[1], touch=touch)
    page.evaluate(BEGUN)
    hint = page.locator(SAVE).evaluate("part => getComputedStyle(part, '::after').display")
    assert (hint == "none") is touch, "keys are named where there are keys"
    for name, work in works:
        arrived_at(page, work)
        assert page.evaluate("window.sameEvening"), name
        work.refresh_from_db()
        assert work.looked_at is None, "what is fetched ahead is not looked at"
        comes_early(page, touch)
        assert look_at(page, work) - further(work) <= MOST_PRESSES, name
    expect(page.get_by_text("Nothing waits.")).to_be_visible()
    all_is_said(works)

"""The piece, its answers, what they may mean, what is suggested and Save lie in one view."""

import io

import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from evidence.models import Submission
from tests.assessment.builders import goal, send, set_day
from tests.evidence.builders import make_ready_piece
from tests.tasks.browsing import Opener
from tests.village import Village

pytestmark = pytest.mark.django_db(transaction=True)
DESKS = [(1280, 800), (1366, 768)]
PIECES = {
    "photo": ("display", "image/jpeg", "photo"),
    "clip": ("clip", "video/mp4", "clip"),
    "voice": ("sound", "audio/mp4", "voice"),
}
FROM_ANSWERS = "Suggestions come from the typed answers alone"


@pytest.fixture(autouse=True)
def own_store(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


def upright(shade: int = 140) -> bytes:
    """Return a photo as a phone held upright takes it."""
    out = io.BytesIO()
    Image.new("RGB", (1200, 1600), (170, shade, 90)).save(out, "JPEG")
    return out.getvalue()


def sent(village: Village, sorts: list[str], answers: str) -> Submission:
    """Return work with a piece of each of *sorts*, and a further one that waits after it."""
    goal()
    plan = set_day(village.robins)
    work = send(village.aisha, village.first_home, plan, answers=answers, help="alone")
    for position, sort in enumerate(sorts):
        role, media_type, kind = PIECES[sort]
        content = upright(100 + position)
        piece = make_ready_piece(work, content, role, media_type, kind, position)
        piece.renditions.filter(role="display").update(width=1200, height=1600)
    send(village.ben, village.bens_home, plan, answers="right")
    return work


def opened_at(opened: Opener, work: Submission, width: int, height: int) -> Page:
    """Open the page of *work* with all that belongs to it."""
    page = opened("teacher", f"/look/{work.token}/", width, height=height)
    page.wait_for_load_state("networkidle")
    return page


def whole_in_view(page: Page, part: Locator) -> dict[str, float]:
    """Return the box of *part*, all of which has to be in view without scrolling."""
    box, size = part.bounding_box(), page.viewport_size
    assert box, part
    assert box["y"] >= 0, part
    assert box["y"] + box["height"] <= size["height"], (part, box)
    assert box["x"] + box["width"] <= size["width"], (part, box)
    return box


@pytest.mark.parametrize(("width", "height"), DESKS)
@pytest.mark.parametrize("answers", ["doubled", "right"])
@pytest.mark.parametrize("sort", ["photo", "clip", "voice", ""])
def test_all_that_a_look_needs_is_in_one_view(
    opened: Opener, village: Village, sort: str, answers: str, width: int, height: int
):
    work = sent(village, [sort] if sort else [], answers)
    page = opened_at(opened, work, width, height)
    if sort:
        whole_in_view(page, page.locator(".piece-frame"))
        expect(page.get_by_text(FROM_ANSWERS)).to_be_visible()
    else:
        expect(page.get_by_text(FROM_ANSWERS)).to_have_count(0)
    whole_in_view(page, page.locator(".prompts").first)
    if answers == "doubled":
        whole_in_view(page, page.locator(".may-be").first)
    first = page.locator("[data-goal]").first
    claim = whole_in_view(page, first)
    reason = "Suggested:" if answers == "right" else "Nothing suggested"
    expect(first.locator(".beside-goal").first).to_contain_text(reason)
    save = whole_in_view(page, page.locator(".desk-save"))
    assert claim["y"] + claim["height"] <= save["y"]
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_several_pieces_of_one_child_are_leafed_through(opened: Opener, village: Village):
    work = sent(village, ["photo", "photo", "voice"], "doubled")
    page = opened_at(opened, work, *DESKS[0])
    shown = page.locator(".large-piece:visible")
    for number in (1, 2, 3, 1):
        expect(shown).to_have_count(1)
        expect(page.locator("[data-place]")).to_have_text(f"{number} of 3")
        whole_in_view(page, shown.locator(".piece-frame"))
        page.keyboard.press("n")


def test_on_a_phone_the_piece_is_above_its_answers_and_the_look_below(
    opened: Opener, village: Village
):
    page = opened_at(opened, sent(village, ["photo", "photo"], "doubled"), 390, 844)
    parts = [page.locator(name).first for name in (".piece-frame", ".prompts", "[data-goal]")]
    tops = [part.bounding_box()["y"] for part in (*parts, page.locator(".desk-save"))]
    assert tops == sorted(tops)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    for button in page.locator(".desk-save .button").all():
        assert button.bounding_box()["height"] >= 44


def test_without_scripts_every_piece_is_there(opened: Opener, village: Village):
    work = sent(village, ["photo", "photo"], "doubled")
    page = opened("teacher", f"/look/{work.token}/", scripts=False)
    expect(page.locator(".large-piece:visible")).to_have_count(2)

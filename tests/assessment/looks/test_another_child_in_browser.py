"""On a phone and a desk: a picture is put to another child and back, then said to both."""

import pytest
from playwright.sync_api import Page, expect

from assessment.models import Look
from evidence.models import Submission
from tests.assessment.builders import goal, send, set_day
from tests.assessment.looks.test_one_view_in_browser import upright
from tests.evidence.builders import make_ready_piece
from tests.evidence.conftest import own_store
from tests.tasks.browsing import Opener
from tests.village import Village

__all__ = ["own_store"]
pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def work(village: Village) -> Submission:
    """Return work of Aisha with a photo and answers."""
    goal()
    made = send(
        village.aisha, village.first_home, set_day(village.robins), answers="right", by_staff=True
    )
    piece = make_ready_piece(made, upright())
    piece.renditions.filter(role="display").update(width=1200, height=1600)
    return made


def choose_ben(page: Page, press: str) -> None:
    """Unfold the control below the picture, choose Ben, and press the button called *press*."""
    page.get_by_text("Another child's?").click()
    page.get_by_label("Child", exact=True).select_option(label="Ben T")
    page.get_by_role("button", name=press).click()


def fits(page: Page) -> bool:
    """Whether nothing reaches over the side of the page."""
    return page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


@pytest.mark.parametrize("width", [390, 1280])
def test_a_picture_is_put_to_ben_and_back_and_then_both_are_told_the_same(
    opened: Opener, village: Village, work: Submission, width: int
):
    page = opened("teacher", f"/look/{work.token}/", width)
    page.get_by_text("Another child's?").click()
    assert fits(page)
    page.get_by_text("Another child's?").click()
    choose_ben(page, "This is another child's")
    expect(page.get_by_text("Other-Family, at home with Ben T, will see it.")).to_be_visible()
    expect(page.get_by_text("The home of Aisha K will not see it any more.")).to_be_visible()
    assert fits(page)
    page.get_by_role("button", name="Put it to Ben T").click()
    expect(page.locator("h1")).to_have_text("Ben T")
    expect(page.get_by_text("It is work of Ben T now")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("h1")).to_have_text("Aisha K")
    assert work.pieces.count() == 1

    choose_ben(page, "Also shows this child")
    expect(page.get_by_text("The home of Aisha K sees it as before")).to_be_visible()
    page.get_by_role("button", name="Show it with Ben T too").click()
    expect(page.locator("h1")).to_have_text("Aisha K")
    page.get_by_label("Reply to the child").fill("Fair shares, Aisha!")
    page.get_by_label("Say the same to both: Ben T too").check()
    page.locator("[data-key='Ctrl+s']").click()
    expect(page.get_by_text("Saved for Aisha K.")).to_be_visible()
    replies = {look.submission.child.first_name: look.reply for look in Look.objects.all()}
    assert replies == {"Aisha": "Fair shares, Aisha!", "Ben": "Fair shares, Ben!"}

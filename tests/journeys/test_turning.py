"""A photo that lies on its side is turned on the family's page, which shows it without a reload."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.faults.grounds import ground, place
from tests.faults.phone import photo
from tests.faults.portal import Portal, running
from tests.journeys.conftest import PHONE
from tests.stack import wait_for
from tests.standard import faults_of

__all__ = ["ground", "place"]
pytestmark = pytest.mark.stack
SHAPE = "image => image.complete ? [image.naturalWidth, image.naturalHeight] : []"


@pytest.fixture
def portal(ground, place) -> Iterator[Portal]:
    with running(ground, place / "data") as portal:
        yield portal


@pytest.fixture
def page(portal, browser: Browser) -> Iterator[Page]:
    """Return the page of a family that has just sent a photo, wider than it is high."""
    phone = portal.phones()[0]
    sent = phone.send(photo(1, (400, 300))).location
    context = browser.new_context(viewport=PHONE, locale="en-GB")
    context.add_cookies([{"name": "session", "value": phone.session, "url": portal.url}])
    page = context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", lambda said: said.type == "error" and complaints.append(said.text))
    page.goto(f"{portal.url}{sent}")
    yield page
    context.close()
    assert not complaints


def shows(page: Page, shape: list[int]) -> None:
    """Wait until the photo, as it came from the portal, has this width and height."""
    shown = page.locator(".pieces img")
    expect(shown).to_have_count(1, timeout=60_000)
    shown.scroll_into_view_if_needed()
    wait_for(lambda: shown.evaluate(SHAPE) == shape, what=f"a photo of {shape}")


def test_a_press_turns_the_photo_where_it_stands_and_another_turns_it_on(page):
    shows(page, [320, 240])
    page.evaluate("document.body.dataset.same = 'page'")
    turn = page.get_by_role("button", name=re.compile("^Turn"))

    turn.click()
    expect(page.get_by_text("Turned.")).to_be_visible(timeout=60_000)
    shows(page, [240, 320])
    turn.click()
    shows(page, [320, 240])

    assert page.evaluate("document.body.dataset.same") == "page"
    assert faults_of(page) == []

"""The pages about data in a real browser, small and large, and the two taps of a consent."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.test import Client
from django.utils import timezone
from playwright.sync_api import Browser, Page, expect

from assessment.goals import load_frameworks
from portal.people.models import Consent, Guardianship, Purpose
from portal.privacy.jobs import make_copy
from portal.privacy.models import Copy, Hold, Wish
from tests.evidence.builders import make_ready_piece, make_submission
from tests.village import Village

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.stack]
WHOLE_STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
FOR_FAMILIES = (
    *("/privacy/", "/sent/{work}/", "/sent/{work}/looked/", "/children/{aisha}/looked/"),
    *("/copies/{copy}/", "/children/{aisha}/send/2026-11-23/"),
)
FOR_LEADS = (
    *("/worry/", "/school/privacy/", "/school/privacy/rules/", "/school/privacy/tonight/"),
    *("/children/{aisha}/privacy/", "/children/{aisha}/privacy/erase/"),
    *("/classes/{robins}/consents/", "/pieces/{piece}/others/", "/work/{work_pk}/data/"),
)


@pytest.fixture
def known(village: Village, settings) -> dict[str, object]:
    """Give what the addresses name: work with a piece, a copy, a wish, a hold and answers."""
    settings.ALLOWED_HOSTS = ["*"]
    load_frameworks()
    family = village.people["family"]
    piece = make_ready_piece(make_submission(village))
    own = Guardianship.objects.get(adult=family, child=village.aisha)
    Consent.answer(own, Purpose.DISPLAY, given=True, wording=1)
    Wish.ask(village.aisha, Wish.What.DELETE_WORK, family, work=piece.submission_id)
    Hold.place(village.ben, None, village.people["lead"])
    copy = Copy.objects.create(child=village.aisha, home=village.first_home, asked_by=family)
    make_copy(copy.pk)
    return {
        "aisha": village.aisha.pk,
        "robins": village.robins.pk,
        "work": piece.submission.token,
        "work_pk": piece.submission_id,
        "piece": piece.token,
        "copy": copy.token,
    }


@pytest.fixture
def seat(browser: Browser, live_server) -> Iterator:
    """Give a function that seats somebody at a screen; its console must stay empty."""
    said: list[str] = []
    contexts = []

    def sit(width: int, user) -> Page:
        context = browser.new_context(viewport={"width": width, "height": 800})
        contexts.append(context)
        client = Client()
        client.force_login(user)
        session = client.session
        session["fresh"] = int(timezone.now().timestamp())
        session.save()
        cookie = {"name": "session", "value": session.session_key, "url": live_server.url}
        context.add_cookies([cookie])
        page = context.new_page()
        page.on("console", lambda line: line.type == "error" and said.append(line.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        return page

    yield sit
    for context in contexts:
        context.close()
    assert said == []


def faults(page: Page, address: str) -> list[str]:
    """Give what is wrong with the page at *address*: too wide, or against the standard."""
    answer = page.goto(address)
    assert answer.status == 200, address
    wide = page.evaluate("document.documentElement.scrollWidth > window.innerWidth")
    # What stands under the bar at the foot counts as too small while the page is cut off there.
    height = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": page.viewport_size["width"], "height": max(800, height)})
    found = Axe().run(page, options={"runOnly": WHOLE_STANDARD}).response["violations"]
    return [*(["too wide"] if wide else []), *(fault["id"] for fault in found)]


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize(
    ("name", "addresses"), [("second home", FOR_FAMILIES[:1]), ("family", FOR_FAMILIES),
                            ("lead", FOR_LEADS)],
)  # fmt: skip
def test_every_page_about_data_fits_the_screen_and_the_standard(
    village, known, seat, live_server, width, name, addresses
):
    page = seat(width, village.people[name])
    for address in addresses:
        where = f"{live_server.url}{address.format(**known)}"
        assert (address, faults(page, where)) == (address, [])


def test_a_consent_is_taken_back_in_as_many_taps_as_it_was_given(village, known, seat, live_server):
    page = seat(360, village.people["family"])
    page.goto(f"{live_server.url}/sent/{known['work']}/")
    page.locator(".quiet-foot").get_by_role("link", name="Privacy and your data").click()
    page.get_by_role("button", name="No", exact=True).first.click()
    expect(page.get_by_text("You said no on")).to_be_visible()
    page.get_by_role("button", name="Yes", exact=True).first.click()
    expect(page.get_by_text("You said yes on")).to_be_visible()


def test_deleting_work_is_asked_about_first(village, known, seat, live_server):
    page = seat(1280, village.people["lead"])
    page.goto(f"{live_server.url}/work/{known['work_pk']}/data/")
    page.get_by_role("link", name="Delete this work").click()
    expect(page.get_by_role("dialog", name="Delete this work for good?")).to_be_visible()
    page.get_by_role("dialog").get_by_text("No, go back").click()
    expect(page.get_by_role("dialog")).to_be_hidden()

"""The demo as a newcomer meets it on a Saturday, over this machine's own address."""

import datetime as dt
import re

import pytest
from playwright.sync_api import Locator, Page

from portal.supervisor.own_address import EVERY, own_address
from tests.journeys.conftest import DESK, PHONE
from tests.square_codes import code_in_terminal
from tests.stack import Stack, wait_for

pytestmark = pytest.mark.stack


class OpenDemo(Stack):
    """A demo that listens on every address of this machine, on the last Saturday that was."""

    @property
    def environment(self) -> dict[str, str]:
        today = dt.datetime.now(dt.UTC).date()
        saturday = today - dt.timedelta(days=(today.weekday() - 5) % 7 or 7)
        return {**super().environment, "DEMO_TODAY": saturday.isoformat()}

    @property
    def arguments(self) -> list[str]:
        return ["--host", EVERY]

    @property
    def own(self) -> str:
        """Return the address that phones reach."""
        return f"http://{own_address()}:{self.port}"


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Give such a demo, ready to be opened."""
    stack = OpenDemo(tmp_path_factory.mktemp("demo") / "data", "demo")
    stack.manage("prepare")
    stack.start()
    wait_for(lambda: "Ctrl-C stops" in stack.said, what="the addresses")
    yield stack
    stack.stop()


@pytest.fixture
def screen(browser):
    """Give a function that opens a page of some size; what fails in it fails the test."""
    opened, complaints = [], []

    def open_page(size) -> Page:
        context = browser.new_context(viewport=size, locale="en-GB")
        context.set_default_timeout(30_000)
        opened.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: complaints.append(str(error)))
        return page

    yield open_page
    for context in opened:
        context.close()
    assert not complaints


def mail(page: Page, demo: Stack, address: str, about: str) -> Locator:
    """Return the newest mail to *address* with *about* in its subject, once it is on the page."""
    found = page.locator(
        ".demo-mail", has_text=address, has=page.get_by_role("heading", name=about)
    ).first

    def there() -> bool:
        page.goto(f"{demo.own}/demo/mails/")
        return found.count() > 0

    wait_for(there, 120, f"the mail {about!r} to {address}")
    return found


def test_a_phone_follows_the_printed_code_and_has_todays_card(demo, screen):
    address = code_in_terminal(demo.said)
    assert address.startswith(f"http://{own_address()}:{demo.port}/")
    phone = screen(PHONE)
    phone.goto(address)
    page = phone.locator("body").inner_text()
    assert "It is Saturday. The demo shows Friday" in page
    assert phone.get_by_role("heading", level=1).inner_text() == "Mina"
    assert phone.get_by_role("link", name="Send Mina’s work").count()
    phone.goto(f"{demo.own}/demo/")
    assert "Anybody in this network" in phone.locator("main").inner_text()


def test_a_code_is_asked_for_read_on_the_page_of_mails_and_works(demo, screen):
    page = screen(PHONE)
    page.goto(f"{demo.own}/sign-in/")
    page.get_by_label("Your e-mail address").fill("family@demo.invalid")
    page.get_by_role("button", name="Send me a code").click()
    asked_at = page.url
    words = mail(page, demo, "family@demo.invalid", "code").inner_text()
    page.goto(asked_at)
    page.get_by_label("The 6 digits").fill(re.search(r"\b(\d{6})\b", words)[1])
    page.get_by_role("button", name="Go on").click()
    assert page.get_by_role("heading", level=1).inner_text() == "Mina"


def test_fridays_mail_leads_to_the_week_and_stands_in_the_terminal(demo, screen):
    page = screen(PHONE)
    page.goto(f"{demo.own}/demo/as/family/")
    summary = mail(page, demo, "family@demo.invalid", "The week's summary is ready")
    summary.locator("a").first.click()
    assert "/weeks/" in page.url
    assert page.locator("main").inner_text().count("Mina")
    line = "Mail to family@demo.invalid: The week's summary is ready"
    wait_for(lambda: line in demo.said, 30, "the mail in the terminal")


def test_an_invitation_of_the_office_is_followed_to_its_end(demo, screen):
    page = screen(DESK)
    page.goto(f"{demo.own}/demo/as/office/")
    page.goto(f"{demo.own}/demo/step/invitations/")
    page.get_by_role("row", name="mistyped@demo.invalid").get_by_role(
        "button", name="Mail again"
    ).click()
    invited = mail(page, demo, "mistyped@demo.invalid", "invit")
    guest = screen(PHONE)
    guest.goto(invited.locator("a").first.get_attribute("href"))
    guest.get_by_label("Your name").fill("A grandfather")
    guest.get_by_label("Your e-mail address").fill("mistyped@demo.invalid")
    guest.get_by_role("button", name="Come in").click()
    guest.goto(f"{demo.own}/today/")
    assert guest.get_by_role("heading", level=1).inner_text() == "Anya"


def test_starting_again_gives_the_school_back_in_a_press(demo, screen):
    page = screen(DESK)
    page.goto(f"{demo.own}/demo/step/home/")
    page.get_by_role("button", name="We could not do it today").click()
    page.goto(f"{demo.own}/demo/")
    page.get_by_role("link", name="Start again", exact=True).click()
    page.set_default_timeout(120_000)
    page.get_by_role("button", name="Start again").click()
    page.get_by_text("as it was at the beginning").wait_for()
    page.goto(f"{demo.own}/demo/step/home/")
    assert page.get_by_role("button", name="We could not do it today").count() == 1

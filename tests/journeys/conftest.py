"""A real portal and a real browser, for the journeys."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Request

from tests.browsers import WAIT
from tests.evidence.media import samples
from tests.evidence.media.made import quarters
from tests.stack import Stack, wait_for
from tests.village import PASSWORD

PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}


@pytest.fixture(scope="session")
def portal(browser_program, tmp_path_factory) -> Iterator[Stack]:
    """Return a portal with the village in it, started by `serve` as a school would."""
    stack = Stack(tmp_path_factory.mktemp("portal") / "data", "serve")
    stack.prepare()
    stack.python("tests.journeys.settle")
    stack.start()
    yield stack
    stack.stop()


@dataclass
class Visitor:
    """A person with a browser of their own. Whatever it asks of another host is kept."""

    portal: Stack
    context: BrowserContext
    page: Page
    strangers: list[str]
    complaints: list[str]

    def go(self, path: str) -> Page:
        """Open *path*."""
        self.page.goto(f"{self.portal.url}{path}")
        return self.page

    def sign_in_by_password(self, email: str) -> None:
        """Come in as a member of staff does."""
        self.go("/sign-in/staff/")
        self.page.get_by_label("E-mail address").fill(email)
        self.page.get_by_label("Password").fill(PASSWORD)
        self.page.get_by_role("button", name="Sign in").click()

    def sign_in_by_code(self, email: str) -> None:
        """Come in as an adult at home does, with the code from the mail."""
        before = len(mails_to(self.portal, email))
        self.go("/sign-in/")
        self.page.get_by_label("Your e-mail address").fill(email)
        self.page.get_by_role("button", name="Send me a code").click()
        mails = wait_for(
            lambda: (found := mails_to(self.portal, email)) and len(found) > before and found,
            what="the mail with the code",
        )
        self.page.get_by_label("The 6 digits").fill(re.search(r"\b(\d{6})\b", mails[-1])[1])
        self.page.get_by_role("button", name="Go on").click()


def mails_to(portal: Stack, email: str) -> list[str]:
    """Return the mails that the portal has written to *email*, oldest first."""
    files = sorted(portal.mails.glob("*.log"), key=lambda path: path.stat().st_mtime)
    mails = [mail for path in files for mail in path.read_text().split("-" * 79) if mail.strip()]
    return [mail for mail in mails if f"To: {email}" in mail]


@pytest.fixture
def visitor(browser, portal) -> Iterator:
    """Return a function that seats a person at a screen; all is checked at the end."""
    seated: list[Visitor] = []

    def seat(size: dict[str, int], **more) -> Visitor:
        context = browser.new_context(viewport=size, locale="en-GB", **more)
        context.set_default_timeout(WAIT)
        page = context.new_page()
        person = Visitor(portal, context, page, [], [])

        def note(request: Request) -> None:
            if not request.url.startswith((portal.url, "data:", "blob:")):
                person.strangers.append(request.url)

        context.on("request", note)
        page.on("pageerror", lambda error: person.complaints.append(str(error)))
        page.on(
            "console",
            lambda said: said.type == "error" and person.complaints.append(said.text),
        )
        seated.append(person)
        return person

    yield seat
    for person in seated:
        person.context.close()
        assert not person.strangers, "a page asked something of another host"
        assert not person.complaints


@pytest.fixture(scope="session")
def phone_files(tmp_path_factory) -> Path:
    """Return a folder of what a phone has: a photo held sideways, and three that know a place."""
    folder = tmp_path_factory.mktemp("phone")
    samples.held(folder / "sideways.jpg", quarters(1200, 900), 6)
    samples.photo(folder / "photo.jpg")
    samples.heic(folder / "photo.heic")
    samples.clip(folder / "clip.mov")
    return folder

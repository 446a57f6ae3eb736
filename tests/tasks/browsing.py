"""What tests in a browser share: how pages are opened, and the standard they are held to."""

from collections.abc import Callable

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

WHOLE_STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
Opener = Callable[..., Page]


def faults_of(page: Page) -> list[tuple[str, str]]:
    """Give the faults of access that are found on a page, each with the first place of it."""
    found = Axe().run(page, options={"runOnly": WHOLE_STANDARD}).response["violations"]
    return [(each["id"], each["nodes"][0]["html"]) for each in found]

"""What tests in a browser share: how pages are opened, and the standard they are held to."""

from collections.abc import Callable

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

WHOLE_STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
Opener = Callable[..., Page]


def faults_of(page: Page) -> list[tuple[str, str]]:
    """Give the faults of access that are found on a page, each with the first place of it.

    The whole page is in view meanwhile, since a bar at the foot covers what is scrolled under it.
    """
    size = page.viewport_size
    high = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": size["width"], "height": max(high, size["height"])})
    found = Axe().run(page, options={"runOnly": WHOLE_STANDARD}).response["violations"]
    page.set_viewport_size(size)
    return [(each["id"], each["nodes"][0]["html"]) for each in found]

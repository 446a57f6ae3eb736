"""The standard that pages are held to in a browser, and what is found on one that is not."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# Source: WCAG 2.2 (W3C, 2023), levels A and AA, as axe-core tags its rules.
WCAG = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
WHOLE = (*WCAG, "best-practice")
WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def faults_of(page: Page, rules: tuple[str, ...] = WHOLE) -> list[str]:
    """Give what is wrong with *page*: a line for each fault of access, and one if it is too wide.

    The whole page is in view meanwhile: what stands under a bar at the foot cannot be judged.
    """
    over = page.evaluate(WIDE)
    size = page.viewport_size
    tall = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": size["width"], "height": max(tall, size["height"])})
    # Asking for no more than the faults halves the time. Sheets are not read anew for the one rule
    # that wants it, a page held to one orientation: test_look.py sees that none of ours asks.
    asked = {"runOnly": list(rules), "resultTypes": ["violations"], "preload": False}
    found = Axe().run(page, options=asked).response["violations"]
    page.set_viewport_size(size)
    faults = [
        f"{each['id']}: {node['html'][:160]}: {node['failureSummary'][:240]}"
        for each in found
        for node in each["nodes"][:2]
    ]
    return faults + ([f"{over} px wider than the screen"] if over > 0 else [])

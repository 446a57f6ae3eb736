"""Walks through the demo with a browser and keeps a picture of each page."""

import io
import tempfile
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, Playwright, sync_playwright

from tests import browsers
from tests.stack import ROOT, Stack, wait_for

PHONE, DESK = (360, 740), (1280, 900)
KEPT = ROOT / ".tour"


@dataclass(frozen=True)
class Stop:
    """One page of the tour: who sees it, where, and at which size of screen."""

    name: str
    who: str
    path: str
    size: tuple[int, int] = DESK
    whole: bool = False


def stops(day: str) -> list[Stop]:
    """Return the stops of the README's tour, once round the loop on *day*, as it is written."""
    return [
        Stop("plan", "teacher", "/classes/1/plan/"),
        Stop("day", "teacher", f"/classes/1/plan/{day}/"),
        Stop("card", "family", "/today/", PHONE),
        Stop("send", "family", f"/children/1/send/{day}/", PHONE),
        Stop("look", "teacher", "/classes/1/look/ first"),
        Stop("goals", "teacher", "/classes/1/goals/"),
        Stop("child", "teacher", "/children/1/"),
        Stop("week", "family", "/weeks/", PHONE),
    ]


def take(stop: Stop, page: Page, url: str) -> bytes:
    """Open the page of *stop* and give its picture as PNG."""
    path, _space, first = stop.path.partition(" ")
    page.goto(f"{url}/demo/as/{stop.who}/")
    if (away := page.get_by_role("button", name="Put away")).count():
        away.click()
    page.goto(f"{url}{path}")
    if first:
        page.get_by_role("link", name="Look at the first").click()
    page.wait_for_load_state("networkidle")
    return page.screenshot(full_page=stop.whole, animations="disabled")


def smaller(png: bytes) -> bytes:
    """Return *png* with at most 128 colours: enough for ink on paper, a third of the size."""
    held = io.BytesIO()
    picture = Image.open(io.BytesIO(png)).convert("RGB")
    picture.quantize(128, dither=Image.Dither.NONE).save(held, "PNG", optimize=True)
    return held.getvalue()


def walk(browser: Browser, portal: Stack, folder: Path, chosen: list[Stop]) -> None:
    """Take the pictures of *chosen* into *folder*."""
    for stop in chosen:
        width, height = stop.size
        context = browser.new_context(viewport={"width": width, "height": height})
        picture = take(stop, context.new_page(), portal.url)
        (folder / f"{stop.name}.png").write_bytes(smaller(picture))
        context.close()


def the_browser(playwright: Playwright) -> Browser:
    """Start this machine's browser."""
    return browsers.launch(playwright.chromium, browsers.found())


def everything_is_ready(portal: Stack) -> bool:
    """Whether no piece of the demo is being made ready any more."""
    left = "from evidence.models import Piece; print(Piece.objects.filter(state='arrived').count())"
    return portal.manage("shell", "--no-imports", "--command", left).strip() == "0"


def main(folder: Path = KEPT) -> None:
    """Start the demo, walk through it, stop it."""
    folder.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        portal = Stack(Path(data) / "data", "demo").start()
        try:
            wait_for(lambda: everything_is_ready(portal), 300, "the demo's photos and clips")
            browser = the_browser(playwright)
            day = (portal.data / "demo-school").read_text().strip()
            walk(browser, portal, folder, stops(day))
            browser.close()
        finally:
            portal.stop()


if __name__ == "__main__":
    main()

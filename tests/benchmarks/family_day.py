"""A family's day in counts: what goes over the line, screens, words, and how hard they are to read.

Everything that comes over the line is counted, by a proxy in front of the portal: also what the
phone fetches to open the day without a line. Screens are those of the walk until Send.
"""

import re
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from PIL import Image, ImageFilter
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from tests import browsers
from tests.benchmarks import Figure
from tests.benchmarks.wire import DOTS, PHONE
from tests.faults.line import Line
from tests.reading_age import of_families, sentence_grades
from tests.stack import Stack

QUIET = 2.0  # seconds without a byte, after which nothing more is taken to come
PHOTO = (1200, 900)
SOFT = ImageFilter.GaussianBlur(3)  # as grainy as a kitchen in the evening
EASY = 4  # school grade
LONGEST = 12  # minutes
WORDS = re.compile(r"[^\W_]+")


def measure() -> Iterator[Figure]:
    """Start the demo, and spend a day with it as a family does on a phone never used before."""
    program = browsers.found()
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        portal = Stack(Path(data) / "data", "demo").start()
        browser = browsers.launch(playwright.chromium, program)
        try:
            yield from a_day(browser, portal, Path(data))
        finally:
            browser.close()
            portal.stop()
    yield from reading()


def reading() -> Iterator[Figure]:
    """Say how hard the English sentences are that families read."""
    grades = sentence_grades(words for _place, words in of_families())
    ninth = grades[len(grades) * 9 // 10]
    yield Figure("sentences families read, 90th percentile", ninth, "grade", most=EASY)
    yield Figure(
        "sentences families read above that", sum(each > EASY for each in grades), "of them"
    )


def a_day(browser: Browser, portal: Stack, folder: Path) -> Iterator[Figure]:
    """Open today's card, come back to it, walk through the day, and send with one photo."""
    line = Line(portal.port)
    phone = a_phone(browser, portal)
    page = phone.new_page()
    page.goto(f"{line.url}/today/")
    cold = rest(line)
    yield Figure("today, first visit, all counted", cold / 1000, "kB", most=120)
    page.goto(f"{line.url}/today/")
    yield Figure("today, second visit, all counted", (rest(line) - cold) / 1000, "kB", most=15)
    phone.close()

    line.bytes_down = line.requests = 0
    phone = a_phone(browser, portal)
    page = phone.new_page()
    page.goto(f"{line.url}/today/")
    minutes = int(re.search(r"(?i)about (\d+) minutes", page.locator("main").inner_text())[1])
    yield Figure("minutes, as the card tells them", minutes, "minutes", most=LONGEST)
    screens, words = walk(page)
    page.locator("#id_pieces").set_input_files(photo(folder))
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url("**/sent/*/")
    yield Figure("a whole day's visit, all counted", rest(line) / 1000, "kB", most=160)
    yield Figure("a whole day's visit", line.requests, "requests", most=30)
    yield Figure("screens from the card until it is sent", screens, "screens")
    yield Figure("words to read on them", words, "words")
    line.take_down()


def a_phone(browser: Browser, portal: Stack) -> BrowserContext:
    """Return a phone of the demo's family that was never used before."""
    phone = browser.new_context(viewport=PHONE, device_scale_factor=DOTS, has_touch=True)
    phone.request.get(f"{portal.url}/demo/as/family/")
    return phone


def rest(line: Line) -> int:
    """Wait until nothing more comes, and give the bytes that came."""
    before, since = -1, time.monotonic()
    while time.monotonic() - since < QUIET:
        if line.bytes_down != before:
            before, since = line.bytes_down, time.monotonic()
        time.sleep(0.1)
    return line.bytes_down


def walk(page: Page) -> tuple[int, int]:
    """Begin on the card and go on until Send, answering numbers; count screens and words."""
    screens, words = 1, read_on(page, "main")
    page.locator("a[href$='#ready']").click()
    page.wait_for_selector("form[data-ready]")
    while True:
        shown = page.locator(".step:visible")
        screens += 1
        words += read_on(page, ".step.here")
        if shown.get_attribute("id") == "send":
            return screens, words
        number = shown.locator("input[data-digits]")
        if number.count():
            number.fill("4")
        shown.locator(".walk-on a").last.click()


def read_on(page: Page, part: str) -> int:
    """Count the words that are shown in *part* of the page."""
    return len(WORDS.findall(page.locator(part).inner_text()))


def photo(folder: Path) -> Path:
    """Draw a photo to send."""
    path = folder / "photo.jpg"
    Image.effect_noise(PHOTO, 60).filter(SOFT).convert("RGB").save(path, "JPEG")
    return path

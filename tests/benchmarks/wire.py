"""What a family's pages weigh on the line, and how soon they can be read on a slow phone.

The line and the phone are slowed by Chromium itself. Source: the profile for phones that Lighthouse
documents (docs/throttling.md): round trips of 150 ms, 1,638 kbit/s down and 768 up, a processor
four times as slow; its limits for a good page are 1.8 s to the first paint and 2.5 s to the
largest. The processor is slowed from that of this machine, so it must do nothing else meanwhile.
"""

import re
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, sync_playwright

from tests import browsers
from tests.benchmarks import Figure
from tests.stack import Stack

PHONE = {"width": 412, "height": 823}
DOTS = 1.75
LINE = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_638_000 / 8,
    "uploadThroughput": 768_000 / 8,
}
SLOWER = 4
FIRST_PAINT, READABLE = 1.8, 2.5  # seconds
WATCH = """window.largest = 0;
new PerformanceObserver((list) => {
  for (const each of list.getEntries()) window.largest = each.startTime;
}).observe({type: "largest-contentful-paint", buffered: true});"""
PAINTS = """() => [performance.getEntriesByName("first-contentful-paint")[0].startTime,
  window.largest]"""


@dataclass(frozen=True)
class Visit:
    """One visit: bytes that came, how many of them were script, and seconds to the paints."""

    size: float
    script: float
    first_paint: float
    readable: float


def measure() -> Iterator[Figure]:
    """Start the demo, and open each page of a family twice on a slow phone never used before."""
    program = browsers.found()
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        start = time.perf_counter()
        portal = Stack(Path(data) / "data", "demo").start()
        yield Figure("cold start to first page", time.perf_counter() - start, "s", most=10)
        browser = browsers.launch(playwright.chromium, program)
        try:
            for name, address in pages(browser, portal).items():
                yield from figures(browser, portal, name, address)
        finally:
            browser.close()
            portal.stop()


def figures(browser: Browser, portal: Stack, name: str, address: str) -> Iterator[Figure]:
    """Measure one page."""
    context = phone(browser, portal)
    first, again = visit(context, address), visit(context, address)
    context.close()
    yield Figure(f"{name}, first visit", first.size / 1000, "kB", most=120)
    yield Figure(f"{name}, script in it", first.script / 1000, "kB", most=60)
    yield Figure(f"{name}, second visit", again.size / 1000, "kB", most=15)
    yield Figure(f"{name}, slow phone: first paint", first.first_paint, "s", most=FIRST_PAINT)
    yield Figure(f"{name}, slow phone: can be read", first.readable, "s", most=READABLE)
    yield Figure(f"{name}, slow phone: can be read again", again.readable, "s", most=READABLE)


def phone(browser: Browser, portal: Stack) -> BrowserContext:
    """Return a phone of the demo's family. What a service worker fetches would go unweighed."""
    context = browser.new_context(
        viewport=PHONE, device_scale_factor=DOTS, has_touch=True, service_workers="block"
    )
    context.add_init_script(WATCH)
    context.request.get(f"{portal.url}/demo/as/family/")
    return context


def pages(browser: Browser, portal: Stack) -> dict[str, str]:
    """Return the addresses of a family's day, of a card, and of the page to send from."""
    context = phone(browser, portal)
    day = f"{portal.url}/today/"
    card = link(context, day, r"/children/\d+/card/[\d-]+/")
    send = link(context, f"{portal.url}{card}", r"/children/\d+/send/[\d-]+/")
    context.close()
    return {
        "family's day": day,
        "family's card": f"{portal.url}{card}",
        "page to send from": f"{portal.url}{send}",
    }


def link(context: BrowserContext, address: str, pattern: str) -> str:
    """Give the first link like *pattern* on the page at *address*. Raises ValueError for none."""
    found = re.search(pattern, context.request.get(address).text())
    if not found:
        raise ValueError(f"no link like {pattern} at {address}")
    return found.group()


def visit(context: BrowserContext, address: str) -> Visit:
    """Open *address* over the slow line, and wait until nothing more comes."""
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Network.enable")
    line.send("Network.emulateNetworkConditions", LINE)
    line.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    kinds: dict[str, str] = {}
    sizes: dict[str, float] = {}
    line.on("Network.responseReceived", lambda e: kinds.update({e["requestId"]: e["type"]}))
    line.on(
        "Network.loadingFinished",
        lambda e: sizes.update({e["requestId"]: e["encodedDataLength"]}),
    )
    page.goto(address)
    page.wait_for_load_state("networkidle")
    first_paint, largest = (each / 1000 for each in page.evaluate(PAINTS))
    page.close()
    script = sum(size for key, size in sizes.items() if kinds.get(key) == "Script")
    return Visit(sum(sizes.values()), script, first_paint, largest)

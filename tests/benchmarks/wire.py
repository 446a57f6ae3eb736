"""What a family's page weighs on the line, and how soon the portal serves its first page."""

import shutil
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import BrowserContext, sync_playwright

from tests.benchmarks import Figure
from tests.stack import Stack

PHONE = {"width": 360, "height": 740}


def measure() -> Iterator[Figure]:
    """Start the demo, and open a family's day twice in a fresh browser."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        start = time.perf_counter()
        portal = Stack(Path(data) / "data", "demo").start()
        yield Figure("cold start to first page", time.perf_counter() - start, "s", most=10)
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        try:
            context = browser.new_context(viewport=PHONE)
            context.request.get(f"{portal.url}/demo/as/family/")
            first, script = weight(context, f"{portal.url}/today/")
            again, _script = weight(context, f"{portal.url}/today/")
            yield Figure("family's day, first visit", first / 1000, "kB", most=120)
            yield Figure("family's day, script in it", script / 1000, "kB", most=60)
            yield Figure("family's day, second visit", again / 1000, "kB", most=20)
        finally:
            browser.close()
            portal.stop()


def weight(context: BrowserContext, address: str) -> tuple[float, float]:
    """Give the bytes that came over the line for *address*, and how many of them were script."""
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Network.enable")
    kinds: dict[str, str] = {}
    sizes: dict[str, float] = {}
    line.on("Network.responseReceived", lambda e: kinds.update({e["requestId"]: e["type"]}))
    line.on(
        "Network.loadingFinished",
        lambda e: sizes.update({e["requestId"]: e["encodedDataLength"]}),
    )
    page.goto(address)
    page.wait_for_load_state("networkidle")
    page.close()
    script = sum(size for key, size in sizes.items() if kinds.get(key) == "Script")
    return sum(sizes.values()), script

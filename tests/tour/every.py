"""Keeps a picture of every page: wide and narrow, light and dark, in one language.

    .venv/bin/python -m tests.tour.every OUT [--language ar] [--role teacher]

Walks as `manage.py labels` does, so that no page is forgotten; names the pages that can be moved
sideways. With --data and --port it uses a demo that runs already.
"""

import argparse
import re
import sys
import tempfile
from itertools import product
from pathlib import Path

from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

from tests.stack import Stack, wait_for
from tests.tour.take import DESK, PHONE, everything_is_ready, smaller, the_browser

Stop = tuple[str, str, str]  # who sees it, its name, its address
SIZES: dict[str, ViewportSize] = {
    str(wide): {"width": wide, "height": high} for wide, high in (PHONE, DESK)
}
NARROW, _wide = SIZES
SCHEMES = ("light", "dark")
MIRROR = "addEventListener('DOMContentLoaded', () => { document.documentElement.dir = 'rtl'; });"
SPEAK = "from portal.people.models import User; User.objects.update(language={!r})"
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def addresses(portal: Stack, role: str, language: str) -> list[Stop]:
    """Return (role, page, address) of every kind of page that is reached by links."""
    chosen = [*(["--role", role] if role else []), "--language", language]
    lines = portal.manage("labels", "--addresses", *chosen).splitlines()
    found = [line.split("\t") for line in lines if line.count("\t") == 2]
    return [(who, name, address) for who, name, address in found]


def take_all(
    browser: Browser, portal: Stack, folder: Path, pages: list[Stop], language: str, mirrored: bool
) -> list[str]:
    """Take every page in every size and scheme into *folder*, and give what looks wrong."""
    wrong = []
    for size, scheme in product(SIZES, SCHEMES):
        for role in dict.fromkeys(who for who, _name, _address in pages):
            context = browser.new_context(
                viewport=SIZES[size],
                color_scheme=scheme,
                locale=language or "en-GB",
                has_touch=size == NARROW,
                is_mobile=size == NARROW,
            )
            if mirrored:
                context.add_init_script(MIRROR)
            page = context.new_page()
            if role != "visitor":
                page.goto(f"{portal.url}/demo/as/{role}/")
            for number, (who, name, address) in enumerate(pages):
                if who == role:
                    words = re.sub(r"\W+", "-", name)
                    file = folder / f"{role}-{number:03}-{words}-{size}-{scheme}.png"
                    page.goto(f"{portal.url}{address}")
                    wrong += take(page, file)
            context.close()
    return wrong


def take(page: Page, file: Path) -> list[str]:
    """Keep a picture of the whole *page*, and say so if it can be moved sideways."""
    page.wait_for_load_state("networkidle")
    over = page.evaluate(SIDEWAYS)
    # Not as one tall picture of a small screen: that forgets that it is touched.
    size = page.viewport_size
    tall = page.evaluate("document.documentElement.scrollHeight")
    page.set_viewport_size({"width": size["width"], "height": max(tall, size["height"])})
    file.write_bytes(smaller(page.screenshot(animations="disabled")))
    page.set_viewport_size(size)
    return [f"{file.name}: {over} px wider than the screen"] if over > 0 else []


def main(arguments: list[str]) -> int:
    """Walk through a demo of its own, or one that runs already."""
    parser = argparse.ArgumentParser(prog="python -m tests.tour.every")
    parser.add_argument("out", type=Path)
    parser.add_argument("--language", default="")
    parser.add_argument("--mirrored", action="store_true", help="right to left, in English")
    parser.add_argument("--role", default="")
    parser.add_argument("--data", type=Path, help="the folder of a demo that runs already")
    parser.add_argument("--port", type=int, help="and where it listens")
    asked = parser.parse_args(arguments)
    asked.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as made, sync_playwright() as playwright:
        portal = Stack(asked.data or Path(made) / "data", "demo")
        if asked.port:
            portal.port = asked.port
        else:
            portal.start()
        try:
            wait_for(lambda: everything_is_ready(portal), 300, "the demo's photos and clips")
            pages = addresses(portal, asked.role, asked.language)
            if asked.language:
                portal.manage("shell", "--no-imports", "--command", SPEAK.format(asked.language))
            browser = the_browser(playwright)
            wrong = take_all(browser, portal, asked.out, pages, asked.language, asked.mirrored)
            browser.close()
        finally:
            if not asked.port:
                portal.stop()
    sys.stdout.write("\n".join([f"{len(pages)} pages.", *wrong, ""]))
    return bool(wrong)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""What tests in a browser share: how pages are opened."""

from collections.abc import Callable, Iterator
from typing import Any

from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, Page

from tests.village import Village

Opener = Callable[..., Page]


def opening(browser: Browser, live_server: Any, village: Village) -> Iterator[Opener]:
    """Yield a function that opens a page as one of the village's people; close all after it."""
    contexts = []

    def open_page(
        role: str,
        path: str,
        width: int = 1280,
        *,
        height: int = 740,
        scripts: bool = True,
        touch: bool = False,
    ) -> Page:
        client = Client()
        client.force_login(village.people[role])
        size = {"width": width, "height": height}
        context = browser.new_context(
            viewport=size, java_script_enabled=scripts, has_touch=touch, is_mobile=touch
        )
        contexts.append(context)
        key = client.cookies[settings.SESSION_COOKIE_NAME].value
        cookie = {"name": settings.SESSION_COOKIE_NAME, "value": key, "url": live_server.url}
        context.add_cookies([cookie])
        page = context.new_page()
        page.goto(f"{live_server.url}{path}")
        return page

    yield open_page
    for context in contexts:
        context.close()

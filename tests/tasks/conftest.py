"""A real browser for the tests of planning."""

from collections.abc import Iterator

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, Page

from tests.tasks.browsing import Opener
from tests.village import Village


@pytest.fixture
def opened(browser: Browser, live_server, village: Village) -> Iterator[Opener]:
    """Return a function that opens a page as one of the village's people."""
    contexts = []

    def open_page(role: str, path: str, width: int = 1280, scripts: bool = True) -> Page:
        client = Client()
        client.force_login(village.people[role])
        size = {"width": width, "height": 740}
        context = browser.new_context(viewport=size, java_script_enabled=scripts)
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

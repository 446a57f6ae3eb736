"""A real browser for the tests of planning."""

import shutil
from collections.abc import Iterator

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, Page, sync_playwright

from tests.tasks.browsing import Opener
from tests.village import Village


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    assert program, "These tests need Chromium on this machine."
    with pytest.MonkeyPatch.context() as environment, sync_playwright() as playwright:
        # The browser's loop lives in this thread; the database is used between its turns only.
        environment.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "1")
        yield playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])


@pytest.fixture
def opened(browser: Browser, live_server, village: Village) -> Iterator[Opener]:
    """Give a function that opens a page as one of the village's people."""
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

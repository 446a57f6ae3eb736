"""A seat at a real browser."""

from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone
from playwright.sync_api import Browser, Page

from tests.standard import faults_of


@pytest.fixture
def seat(browser: Browser, live_server: Any) -> Iterator:
    """Return a function that seats somebody, freshly signed in; the console must stay empty."""
    said: list[str] = []
    contexts = []

    def sit(width: int, user: Any = None) -> Page:
        context = browser.new_context(viewport={"width": width, "height": 800})
        contexts.append(context)
        if user:
            client = Client()
            client.force_login(user)
            session = client.session
            session["fresh"] = int(timezone.now().timestamp())
            session.save()
            cookie = {"name": "session", "value": session.session_key, "url": live_server.url}
            context.add_cookies([cookie])
        page = context.new_page()
        page.on("console", lambda line: line.type == "error" and said.append(line.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        return page

    yield sit
    for context in contexts:
        context.close()
    assert said == []


@pytest.fixture
def faults_at(live_server: Any):
    """Give a function that opens an address of the portal and gives what is wrong there."""

    def look(page: Page, address: str) -> list[str]:
        answer = page.goto(f"{live_server.url}{address}")
        assert answer.status == 200, address
        return faults_of(page)

    return look

"""What every test may ask for."""

import os
import random
from collections.abc import Iterator
from types import SimpleNamespace

import freezegun
import pytest
from django.test import Client
from playwright.sync_api import Browser, expect, sync_playwright

from portal.supervisor import broker
from tasks.plans import prompt_selection
from tests import browsers
from tests.village import Village

pytest_plugins = ["tests.closing"]

# How long a test took is told by the real clock, whatever the time is in it.
freezegun.configure(extend_ignore_list=["_pytest.timing"])


@pytest.fixture(autouse=True)
def same_draw(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let each test draw the same questions in every run, so that what fails can be seen again.

    TEST_DRAW=2 (or any other word) draws others; what has to hold for every draw is asked of many
    seeds by its own test.
    """
    drawn = random.Random(os.environ.get("TEST_DRAW", "") + request.node.nodeid)
    stand_in = SimpleNamespace(randbelow=drawn.randrange)
    monkeypatch.setattr(prompt_selection, "secrets", stand_in)


@pytest.fixture(scope="session")
def browser_program(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return the program of a browser, looked for once a run; skip what needs one without it."""
    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent
    try:
        return browsers.once_for_all(folder / "browser")
    except browsers.NoBrowserError as error:
        pytest.skip(str(error))


def pytest_report_header() -> str:
    """Say at the start which broker the portals have that tests start."""
    return f"job broker: {broker.first_of_own().words}"


@pytest.fixture(scope="module")
def browser(browser_program: str) -> Iterator[Browser]:
    """Return a real browser. One file of tests has it at a time: its loop runs in their thread."""
    expect.set_options(timeout=browsers.WAIT)
    with pytest.MonkeyPatch.context() as environment, sync_playwright() as playwright:
        # The database is used between the turns of that loop only.
        environment.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "1")
        browser = browsers.launch(playwright.chromium, browser_program)
        yield browser
        browser.close()


@pytest.fixture
def village(db: None) -> Village:
    """Return a small invented school; see tests/village.py for who is whom."""
    return Village.build()


@pytest.fixture
def signed_in(village: Village):
    """Give a function that makes a browser signed in as one of the village's people."""

    def sign_in(role: str) -> Client:
        client = Client()
        if role != "visitor":
            client.force_login(village.people[role])
        return client

    return sign_in

"""What every test may ask for."""

import shutil
from collections.abc import Iterator

import freezegun
import pytest
from django.test import Client
from playwright.sync_api import Browser, sync_playwright

from portal.running import broker
from tests.village import Village

# How long a test took is told by the real clock, whatever the time is in it.
freezegun.configure(extend_ignore_list=["_pytest.timing"])


# Files that take a minute or more: begun first, so that no core waits for the last of them.
LONG = {
    *("test_killed_web.py", "test_cut_lines.py", "test_decoders.py", "test_killed_worker.py"),
    *("test_running_portal.py", "test_every_page_in_browser.py", "test_full_disk.py"),
    *("test_page_states.py", "test_after_restore.py", "test_backup_and_restore.py"),
}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the long files first; those of one file stay together."""
    items.sort(key=lambda item: item.path.name not in LONG)


def pytest_report_header() -> str:
    """Say at the start which broker the portals have that tests start."""
    return f"job broker: {broker.first_of_own().words}"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Give a real browser. One file of tests has it at a time: its loop runs in their thread."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    assert program, "These tests need Chromium on this machine."
    with pytest.MonkeyPatch.context() as environment, sync_playwright() as playwright:
        # The database is used between the turns of that loop only.
        environment.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "1")
        browser = playwright.chromium.launch(
            executable_path=program, args=["--no-sandbox", "--disable-gpu"]
        )
        yield browser
        browser.close()


@pytest.fixture
def village(db: None) -> Village:
    """Give a small invented school; see tests/village.py for who is whom."""
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

"""A real browser for the tests of planning."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.tasks.browsing import Opener, opening
from tests.village import Village


@pytest.fixture
def opened(browser: Browser, live_server, village: Village) -> Iterator[Opener]:
    """Return a function that opens a page as one of the village's people."""
    yield from opening(browser, live_server, village)

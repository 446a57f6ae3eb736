"""What tests in a browser share: how pages are opened."""

from collections.abc import Callable

from playwright.sync_api import Page

Opener = Callable[..., Page]

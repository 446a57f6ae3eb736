"""A real portal with a day set and people signed in, for tests that break things around it."""

import json
import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

import psutil
import pytest
from playwright.sync_api import Page

from tests.browsers import WAIT
from tests.faults.grounds import ground, place
from tests.stack import Stack

__all__ = ["ground", "place"]


@dataclass
class Scene:
    """A running portal, and who may do what in it."""

    portal: Stack
    said: dict = field(default_factory=dict)

    @cached_property
    def day(self) -> str:
        return self.said["day"]

    def cookie(self, role: str = "family") -> str:
        """Return the cookie of *role*'s session as a header's value."""
        return f"session={self.said['cookies'][role]}"

    def send_path(self, child: str = "Aisha") -> str:
        """Return the address of the sending page of today."""
        return f"/children/{self.said['children'][child]}/send/{self.day}/"

    def ask(self, query: str) -> list[tuple]:
        """Ask the portal's database."""
        path = self.portal.data / "kitchen-counter.sqlite3"
        with sqlite3.connect(path, timeout=20) as database:
            return database.execute(query).fetchall()

    def web_workers(self) -> list[psutil.Process]:
        """List the processes that serve pages, their master apart."""
        return [worker for master in self.web_masters() for worker in master.children()]

    def web_masters(self) -> list[psutil.Process]:
        """List the process that the launcher started to serve pages; none while there is none."""
        return [
            child
            for child in psutil.Process(self.portal.process.pid).children()
            if child.status() != psutil.STATUS_ZOMBIE and "gunicorn" in " ".join(child.cmdline())
        ]

    @property
    def media(self) -> Path:
        return self.portal.data / "media"


def started(data: Path) -> Scene:
    """Start a portal in *data* with the scene set."""
    stack = Stack(data, "serve").prepare()
    stack.python("tests.faults.scene_to_send")
    stack.start()
    return Scene(stack, json.loads((data / "scene.json").read_text()))


@pytest.fixture(scope="module")
def scene(tmp_path_factory) -> Iterator[Scene]:
    """Return a portal that the tests of one file share."""
    scene = started(tmp_path_factory.mktemp("scene") / "data")
    yield scene
    scene.portal.stop()


@pytest.fixture
def phone(scene, browser) -> Iterator[Callable[..., Page]]:
    """Give a function that opens a browser as *role* on a phone, at the portal's address *url*."""
    contexts = []

    def open_page(url: str, role: str = "family", **more: object) -> Page:
        context = browser.new_context(
            viewport={"width": 360, "height": 740}, locale="en-GB", **more
        )
        context.set_default_timeout(WAIT)
        cookie = {"name": "session", "value": scene.said["cookies"][role], "url": url}
        context.add_cookies([cookie])
        contexts.append(context)
        return context.new_page()

    yield open_page
    for context in contexts:
        context.close()

"""A browser of another make than Chromium: the few verbs that journeys need, the same for each."""

import shutil
from abc import ABC, abstractmethod
from pathlib import Path
from typing import Any

from tests.stack import wait_for

WAIT = 60.0  # seconds, on a busy machine
WIDTH, HEIGHT = 360, 740  # pixels; an engine made for desks alone stays wider
# Runs a body that may wait, and tells its value apart from what it threw.
RUN = """const done = arguments[arguments.length - 1];
const given = [...arguments].slice(0, -1);
(async () => {{ {body} }})().then(
  (value) => done({{ value: value ?? null }}),
  (fault) => done({{ fault: `${{fault}}` }}),
);"""
# What can be pressed and is seen, by its words or its label.
NAMED = """const [name] = arguments;
const plain = (text) => (text ?? "").replace(/\\s+/g, " ").trim();
const isNamed = (each) =>
  [each.innerText, each.getAttribute("aria-label")].map(plain).includes(name);
return [...document.querySelectorAll("a, button, summary, label")]
  .find((each) => each.checkVisibility() && isNamed(each)) ?? null;"""
PLACED = """return [...document.querySelectorAll(arguments[0])]
  .find((each) => each.checkVisibility()) ?? null;"""


class NoEngineError(Exception):
    """There is no such browser here, or nothing to drive it by."""


class ScriptError(Exception):
    """A script threw something in the page."""


def program(told: str, *names: str) -> str:
    """Return the first of the programs *names* that is here. Raises NoEngineError with *told*."""
    for name in names:
        if there := shutil.which(name):
            return there
    raise NoEngineError(told)


class Engine(ABC):
    """One browser with nothing kept in it yet. *driver*: the client that its makers know."""

    between_pages: tuple[type[Exception], ...]  # what the client raises while a page goes

    def __init__(self, driver: Any) -> None:
        self.driver = driver

    @staticmethod
    @abstractmethod
    def installed() -> Any:
        """Return the programs that it is made of. Raises NoEngineError where one is missing."""

    @property
    @abstractmethod
    def address(self) -> str:
        """Return the address of the page that is open."""

    @abstractmethod
    def open(self, url: str) -> None:
        """Open a page."""

    @abstractmethod
    def call(self, script: str, *given: Any, later: bool = False) -> Any:
        """Run a script, and give what it returns, or with *later* what it hands to its last one."""

    @abstractmethod
    def choose(self, selector: str, *paths: Path) -> None:
        """Choose files in an input, as its dialogue would."""

    @abstractmethod
    def close(self) -> None:
        """End the browser."""

    def run(self, body: str, *given: Any) -> Any:
        """Run the *body* of a function of `given` that may wait. Raises ScriptError.

        Gives None where the page went before it was done.
        """
        told = self.call(RUN.format(body=body), *given, later=True)
        if told is None:
            return None
        if "fault" in told:
            raise ScriptError(told["fault"])
        return told["value"]

    def let_in(self, url: str, cookie: str) -> None:
        """Be signed in at *url* by the cookie of a session."""
        self.open(f"{url}/no-line/")
        self.driver.add_cookie({"name": "session", "value": cookie, "path": "/"})

    def until(self, body: str, *given: Any) -> Any:
        """Wait until *body* returns something true, and give that; pages may go meanwhile."""
        return wait_for(lambda: self.tried(self.run, body, *given), WAIT, f"{body} {given}")

    def press(self, name: str) -> None:
        """Press what has the words or the label *name*, once it is seen."""
        self.press_found(NAMED, name)

    def press_at(self, selector: str) -> None:
        """Press the first that *selector* finds of what is seen."""
        self.press_found(PLACED, selector)

    def press_found(self, find: str, what: str) -> None:
        """Press what a script finds, as soon as it is there."""
        wait_for(lambda: self.tried(self.call, find, what), WAIT, what).click()

    def write(self, selector: str, text: str) -> None:
        """Write into the first field that *selector* finds of what is seen."""
        wait_for(lambda: self.tried(self.call, PLACED, selector), WAIT, selector).send_keys(text)

    def words(self) -> str:
        """Return the words that are seen on the page."""
        return str(self.call("return document.body.innerText"))

    def says(self, words: str) -> None:
        """Wait until the page says *words*."""
        self.until("return document.body?.innerText.includes(given[0])", words)

    def arrives(self, part: str) -> None:
        """Wait until the address holds *part*, and the page is read."""
        self.until(
            "return location.href.includes(given[0]) && document.readyState === 'complete'", part
        )

    def tried(self, ask: Any, *given: Any) -> Any:
        """Return what *ask* gives; None where the page went meanwhile."""
        try:
            return ask(*given)
        except self.between_pages:
            return None

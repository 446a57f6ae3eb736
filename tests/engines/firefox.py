"""Firefox, driven by Mozilla's own client through the door that it opens for tests."""

import importlib.util
from pathlib import Path
from typing import Any

from tests.engines.engine import HEIGHT, WAIT, WIDTH, Engine, NoEngineError, program
from tests.stack import free_port

NONE = "no Firefox on this machine (Debian: firefox-esr)"
# A microphone that hears a tone, and nobody asked whether it may.
HEARING = {"media.navigator.streams.fake": True, "media.navigator.permission.disabled": True}
DEAF = {"permissions.default.microphone": 2}  # refused, without a question
ENGLISH = {"intl.accept_languages": "en-GB"}


class Firefox(Engine):
    """A Firefox without a window, its profile made for it and thrown away."""

    @staticmethod
    def installed() -> str:
        """Return the program. Raises NoEngineError where it or what drives it is missing."""
        if not importlib.util.find_spec("marionette_driver"):
            raise NoEngineError("Firefox is driven on Linux alone, by Python older than 3.13")
        return program(NONE, "firefox-esr", "firefox")

    def __init__(self, folder: Path, *, hears: bool = True) -> None:
        from marionette_driver.errors import (
            JavascriptException,
            NoSuchWindowException,
            StaleElementException,
            UnknownException,
        )
        from marionette_driver.marionette import Marionette

        self.between_pages = (
            JavascriptException,
            NoSuchWindowException,
            StaleElementException,
            UnknownException,
        )
        browser = Marionette(
            bin=self.installed(),
            headless=True,
            port=free_port(),
            prefs=(HEARING if hears else DEAF) | ENGLISH,
            gecko_log=str(folder / "firefox.log"),
            socket_timeout=2 * WAIT,
            startup_timeout=2 * WAIT,
        )
        super().__init__(browser)
        browser.start_session()
        browser.timeout.script = WAIT
        browser.set_window_rect(width=WIDTH, height=HEIGHT)

    @property
    def address(self) -> str:
        return str(self.driver.get_url())

    def open(self, url: str) -> None:
        self.driver.navigate(url)

    def call(self, script: str, *given: Any, later: bool = False) -> Any:
        run = self.driver.execute_async_script if later else self.driver.execute_script
        return run(script, script_args=given, sandbox=None)

    def choose(self, selector: str, *paths: Path) -> None:
        from marionette_driver.by import By

        field = self.driver.find_element(By.CSS_SELECTOR, selector)
        for path in paths:
            field.send_keys(str(path))

    def close(self) -> None:
        try:
            self.driver.quit()
        finally:
            self.driver.cleanup()
            self.driver = None  # it would clean up once more as Python ends

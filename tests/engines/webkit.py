"""WebKit, as Debian has it for GTK, driven by Selenium on a screen that nobody sees."""

import base64
import importlib.util
import mimetypes
import os
import signal
import socket
import subprocess
from pathlib import Path
from typing import Any

from tests.engines.engine import HEIGHT, WAIT, WIDTH, Engine, NoEngineError, program
from tests.stack import free_port, wait_for

# A microphone that hears a tone, and nobody asked whether it may.
HEARING = ("--enable-media-stream=true", "--enable-mock-capture-devices=true")
NONE = "no WebKit on this machine (Debian: webkit2gtk-driver, xvfb, xauth, dbus)"
BROWSER = "*/webkit2gtk-4.*/MiniBrowser"
STARTS = ("xvfb-run", "dbus-run-session", "WebKitWebDriver")  # each starts the next
# The dialogue for files cannot be driven here: they are put in as dropping them would.
PUT = """const [selector, files] = given;
const held = new DataTransfer();
for (const [name, type, content] of files) {
  const bytes = Uint8Array.from(atob(content), (each) => each.charCodeAt(0));
  held.items.add(new File([bytes], name, { type }));
}
const field = document.querySelector(selector);
field.files = held.files;
for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));"""


class WebKit(Engine):
    """A WebKit on a screen of its own, which keeps nothing."""

    @staticmethod
    def installed() -> tuple[list[str], str]:
        """Return what starts it, and the browser. Raises NoEngineError where one is missing."""
        if not importlib.util.find_spec("selenium"):
            raise NoEngineError("WebKit is driven on Linux alone here")
        program(NONE, "xauth")  # which xvfb-run needs
        browsers = sorted(str(path) for path in Path("/usr/lib").glob(BROWSER))
        if not browsers:
            raise NoEngineError(NONE)
        return [program(NONE, name) for name in STARTS], browsers[-1]

    def __init__(self, folder: Path, *, hears: bool = True) -> None:
        from selenium.common.exceptions import (
            JavascriptException,
            NoSuchWindowException,
            StaleElementReferenceException,
        )
        from selenium.webdriver import Remote, WebKitGTKOptions

        self.between_pages = (
            JavascriptException,
            NoSuchWindowException,
            StaleElementReferenceException,
        )
        (screen, session, driver), browser = self.installed()
        port = free_port()
        told = {name: str(folder) for name in ("HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME")}
        told |= {"WEBKIT_DISABLE_COMPOSITING_MODE": "1", "LANGUAGE": "en_GB"}
        self.process = subprocess.Popen(
            [screen, "-a", session, "--", driver, "-p", str(port)],
            env=os.environ | told,
            stdout=(folder / "webkit.log").open("w"),
            stderr=subprocess.STDOUT,
            start_new_session=True,
        )
        wait_for(lambda: answers(port), WAIT, "WebKit's driver")
        options = WebKitGTKOptions()
        options.binary_location = browser
        for argument in ("--automation", *(HEARING if hears else ())):
            options.add_argument(argument)
        super().__init__(Remote(f"http://127.0.0.1:{port}", options=options))
        self.driver.set_script_timeout(WAIT)
        self.driver.set_window_size(WIDTH, HEIGHT)

    @property
    def address(self) -> str:
        return str(self.driver.current_url)

    def open(self, url: str) -> None:
        self.driver.get(url)

    def call(self, script: str, *given: Any, later: bool = False) -> Any:
        run = self.driver.execute_async_script if later else self.driver.execute_script
        return run(script, *given)

    def choose(self, selector: str, *paths: Path) -> None:
        self.run(PUT, selector, [as_told(path) for path in paths])

    def close(self) -> None:
        try:
            self.driver.quit()
        finally:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()


def answers(port: int) -> bool:
    """Whether somebody listens on *port*."""
    with socket.socket() as line:
        return not line.connect_ex(("127.0.0.1", port))


def as_told(path: Path) -> tuple[str, str, str]:
    """Return a file's name, its type as a phone tells it, and what is in it, for a script."""
    kind, _coding = mimetypes.guess_type(path.name)
    return path.name, kind or "", base64.b64encode(path.read_bytes()).decode()

"""A real browser for the tests: one that is on this machine, else one that Playwright installs."""

import fcntl
import json
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, BrowserType

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
# What is shown comes from this machine alone, and in a container the sandbox seldom works.
ARGUMENTS = ("--no-sandbox", "--disable-gpu")
HOW = "install Chromium, or: .venv/bin/python -m playwright install --with-deps chromium"
# A microphone that hears a tone, and nobody asked whether it may.
HEARING = ("--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream")
WAIT = 60_000  # milliseconds, on a busy machine; what is there is seen at once
INSTALL_LIMIT = 900  # seconds


class NoBrowserError(Exception):
    """There is no browser, and none could be installed."""


def launch(kind: BrowserType, program: str, *more: str) -> Browser:
    """Start the browser *program* with the arguments *more* besides ours."""
    return kind.launch(executable_path=program, args=[*ARGUMENTS, *more])


def find() -> tuple[str, str] | None:
    """Return the program of a browser that is here and starts."""
    for name in NAMES:
        if (program := shutil.which(name)) and starts(program):
            return program, ""
    program = own()
    return (program, "") if starts(program) else None


def own() -> str:
    """Return where Playwright puts the browser that it installs."""
    # In a process of its own: in this one Playwright may be running, and then it cannot start.
    ask = "from playwright.sync_api import sync_playwright as run\n"
    ask += "with run() as playwright: print(playwright.chromium.executable_path)"
    command = [sys.executable, "-c", ask]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()


def starts(program: str) -> bool:
    """Whether *program* is there with all the libraries it needs."""
    try:
        ran = subprocess.run([program, "--version"], capture_output=True, timeout=60, check=False)
    except OSError:
        return False
    return ran.returncode == 0


def installed() -> tuple[str, str]:
    """Have Playwright install a browser: give its program, or "" and why there is none."""
    command = [sys.executable, "-m", "playwright", "install", "chromium"]
    try:
        ran = subprocess.run(
            command, capture_output=True, text=True, timeout=INSTALL_LIMIT, check=False
        )
    except subprocess.TimeoutExpired:
        return "", f"no browser: Playwright did not install one in {INSTALL_LIMIT} s; {HOW}"
    if ran.returncode:
        return "", f"no browser: Playwright could not install one here; {HOW}"
    return find() or ("", f"no browser: the one that Playwright installed does not start; {HOW}")


def once_for_all(note: Path) -> str:
    """Return the program that *note* names, or find one and note it, for all processes of a run.

    Raises NoBrowserError where there is none.
    """
    with note.open("a+") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        file.seek(0)
        said = file.read()
        program, why = json.loads(said) if said else find() or installed()
        if not said:
            json.dump((program, why), file)
    if not program:
        raise NoBrowserError(why)
    return program


def found() -> str:
    """Return the program of a browser. Raises NoBrowserError where there is none."""
    with tempfile.TemporaryDirectory() as folder:
        return once_for_all(Path(folder) / "browser")

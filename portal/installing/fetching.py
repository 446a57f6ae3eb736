"""Running pip: what it is told, how often it is tried, and what is said when it fails."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from .progress import Progress

LOOK_EACH = 0.2  # seconds
PIP_OPTIONS = (
    *("install", "--no-input", "--disable-pip-version-check", "--no-warn-script-location"),
    *("--progress-bar", "off", "--retries", "3", "--require-hashes"),
)
# What is set on this machine for other work would hide the lines that tell how far pip is, or
# put the libraries elsewhere.
OVERRULED = {"PYTHONUNBUFFERED": "1", "PIP_QUIET": "0", "PIP_VERBOSE": "0", "PIP_USER": "0"}
NOT_AGAIN = ("No space left on device", "Permission denied", "Read-only file system")
NOT_THE_SAME = "DO NOT MATCH THE HASHES"  # also said of a file that was cut short
BROKEN_LINE = (
    *("Retrying (", "Connection", "Could not fetch URL", "IncompleteRead", "incomplete"),
    *("timed out", "Temporary failure in name resolution", "SSLError", NOT_THE_SAME),
    *("is invalid", "HTTP error", "HTTPError", "ProtocolError"),
)


class CannotInstallError(Exception):
    """One sentence that says what stands in the way, and what to do."""


def say(text: str) -> None:
    """Print *text* where it mixes with no command's output."""
    sys.stderr.write(f"{text}\n")
    sys.stderr.flush()


def fetch(pip: Sequence[str], locks: Sequence[Path], progress: Progress, lock: int) -> None:
    """Install the *locks* by *pip*, which holds *lock* as well; a broken download is tried again.

    Raises CannotInstallError.
    """
    chosen = [word for path in locks for word in ("-r", str(path))]
    for attempt in (1, 2):
        progress.log.write_text("")
        progress.read = 0
        try:
            code = watch([*pip, *PIP_OPTIONS, *chosen], progress.log, lock, progress.look)
            progress.look()
        finally:
            progress.bar.clear()
        if code == 0:
            return
        said = progress.log.read_text(encoding="utf-8", errors="replace")
        if attempt == 2 or not is_worth_another_try(said):
            raise CannotInstallError(sentence(said, progress.log))
        say("The download broke off; trying once more.")


def watch(command: Sequence[str], log: Path, lock: int, look: Callable[[], None]) -> int:
    """Run *command* into *log*, and *look* at it all the while; give how it ended.

    Whoever starts next waits for it by the *lock*, even where this process was killed. It is a
    group of its own, and so can be ended with all that it has started.
    """
    with log.open("ab") as output:
        process = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=output,
            env={**os.environ, **OVERRULED},
            pass_fds=[lock],
            start_new_session=True,
        )
    try:
        while process.poll() is None:
            look()
            time.sleep(LOOK_EACH)
    finally:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGTERM)
            process.wait()
    return process.returncode


def is_worth_another_try(said: str) -> bool:
    """Tell whether a second try may do better than one that *said* this."""
    if any(word in said for word in NOT_AGAIN):
        return False
    return "No matching distribution" not in said or any(word in said for word in BROKEN_LINE)


def sentence(said: str, log: Path) -> str:
    """Return one sentence for people about what pip *said* before it gave up."""
    if "No space left on device" in said:
        return f"The disk of {log.parent} is full: make room, then start again."
    if NOT_THE_SAME in said:
        return (
            "The libraries cannot be fetched: one came other than it was locked, cut short on the "
            f"way or changed at its source. Start again on another line. (What pip said: {log})"
        )
    if any(word in said for word in BROKEN_LINE):
        return (
            "The libraries cannot be fetched: this machine reaches no package index now. Connect "
            f"it, then start again; this is needed once. (What pip said: {log})"
        )
    wrong = [line for line in said.splitlines() if line.startswith("ERROR: ")]
    last = wrong[-1].removeprefix("ERROR: ") if wrong else "pip ended without a reason."
    here = f"Python {sys.version_info[0]}.{sys.version_info[1]} on {sys.platform}"
    if "No matching distribution" in last:
        return f"A library is not made for {here} (3.11 to 3.14 are known to work). {last}"
    return f"The libraries could not be installed: {last} (All that pip said: {log})"

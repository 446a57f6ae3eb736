"""Make .venv hold the pinned libraries: one start at a time, and whole or not at all."""

import fcntl
import importlib.util
import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from types import FrameType

from .fetching import CannotInstallError, fetch, say, watch
from .libraries import LISTS, LOCKS, STAMP, UNFINISHED, VENV, digest, is_ready, python, stamped
from .progress import Bar, Progress

LOG = VENV / "installing.log"  # what pip said; written again by each install
COST = re.compile(r"# Cost: (\d+) libraries, (\d+) MB to fetch, (\d+) MB on disk, (\d+) seconds")
NO_PIP = (
    "This Python can make no environment: it lacks ensurepip, and pip. On Debian and Ubuntu: "
    "apt install python3-venv. On Fedora: dnf install python3-pip. On Alpine: apk add py3-pip. "
    "On macOS: take the Python of its own installer, or of the package manager you use."
)


@dataclass(frozen=True)
class Cost:
    """What it costs to install a list: how many libraries, MB to fetch, MB kept, seconds."""

    libraries: int = 1
    to_fetch: int = 0
    on_disk: int = 0
    seconds: int = 0

    @classmethod
    def of(cls, lists: Sequence[Path]) -> "Cost":
        """Add up what the first lines of *lists* say; measured, and held by a test."""
        found = [COST.search(path.read_text(encoding="utf-8")) for path in lists]
        parts = [[int(number) for number in each.groups()] for each in found if each]
        return cls(*map(sum, zip(*parts, strict=True)))


def has_all(wanted: Sequence[str]) -> bool:
    """Tell whether the Python that runs has the *wanted* lists installed by other hands."""
    for name in wanted:
        for line in LISTS[name].read_text(encoding="utf-8").splitlines():
            pinned = re.fullmatch(r"([\w.-]+)(?:\[.*\])?==(\S+)", line)
            try:
                if pinned and metadata.version(pinned[1]) != pinned[2]:
                    return False
            except metadata.PackageNotFoundError:
                return False
    return True


def make_or_exit(wanted: Sequence[str]) -> None:
    """Install the *wanted* lists, or end with a sentence that says why not."""
    try:
        make_ready(wanted)
    except CannotInstallError as error:
        sys.exit(str(error))
    except KeyboardInterrupt:
        say("Stopped. The next start begins the installing again.")
        sys.exit(130)


def make_ready(wanted: Sequence[str]) -> None:
    """Install the *wanted* lists into .venv, one start at a time. Raises CannotInstallError."""
    for told_to_end in (signal.SIGTERM, signal.SIGHUP):
        if signal.getsignal(told_to_end) is not signal.SIG_IGN:  # as nohup wants it
            signal.signal(told_to_end, interrupt)
    with locked(VENV.parent) as lock:
        if is_ready(wanted):
            return  # Another start has done it meanwhile.
        if UNFINISHED.exists():
            say("An earlier start was cut off while it installed: making .venv anew.")
            shutil.rmtree(VENV)
        new = [name for name in wanted if name not in stamped()]
        announce(new)
        bar = Bar(sys.stderr)
        begin(bar, lock)
        expected = Cost.of([LISTS[name] for name in wanted]).libraries
        progress = Progress(bar, expected, LOG, count_in_place)
        try:
            fetch(pip_command(), [LOCKS[name] for name in wanted], progress, lock)
        except CannotInstallError:
            if not progress.told.in_order:
                UNFINISHED.unlink()  # Nothing was put in place: the next start can go on.
            raise
        finish(wanted, progress, whole=len(new) == len(wanted))
        say(f"Installed in {progress.bar.seconds:.0f} seconds.")


def interrupt(_signal: int, _frame: FrameType | None) -> None:
    """Treat being told to end as Ctrl-C is treated."""
    raise KeyboardInterrupt


@contextmanager
def locked(folder: Path) -> Iterator[int]:
    """Hold *folder* against other starts, by a lock that ends with the processes that have it."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another start is installing the libraries: waiting for it.")
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield handle
    finally:
        os.close(handle)


def announce(new: Sequence[str]) -> None:
    """Say what is going to happen, where, and what it costs."""
    if not new:
        say(f"The list of libraries has changed: bringing {VENV} up to date.")
        return
    cost = Cost.of([LISTS[name] for name in new])
    say(
        f"Once, at the first start: {cost.libraries} libraries into {VENV}\n"
        f"({cost.to_fetch} MB to fetch, {cost.on_disk} MB on disk, about {cost.seconds} seconds "
        "on a good line)."
    )


def begin(bar: Bar, lock: int) -> None:
    """Make .venv where there is none, marked as unfinished. Raises CannotInstallError."""
    try:
        VENV.mkdir(exist_ok=True)
        UNFINISHED.touch()
    except OSError as error:
        raise CannotInstallError(
            f"{VENV} cannot be written ({error.strerror}): copy this folder to a place of your "
            "own, or start it with a Python that has requirements.txt installed."
        ) from error
    if not python().exists():
        bare = [] if importlib.util.find_spec("ensurepip") else ["--without-pip"]
        command = [base_python(), "-m", "venv", *bare, str(VENV)]
        if watch(command, LOG, lock, lambda: bar.show(0, "making the environment")):
            bar.clear()
            why = " ".join(LOG.read_text(errors="replace").split())[-300:]
            raise CannotInstallError(f"No environment could be made in {VENV}: {why}")


def finish(wanted: Sequence[str], progress: Progress, *, whole: bool) -> None:
    """Say in .venv what it holds now, once all of that is on the disk."""
    os.sync()
    measured = {
        "megabytes-fetched": f"{progress.told.megabytes:.0f}",
        "seconds": f"{progress.bar.seconds:.0f}",
    }
    now = {name: digest(LOCKS[name]) for name in wanted}
    before = {name: value for name, value in stamped().items() if name not in measured}
    lines = {**before, **now, **(measured if whole else {})}
    STAMP.write_text("".join(f"{name} {value}\n" for name, value in lines.items()))
    UNFINISHED.unlink()


def pip_command() -> list[str]:
    """Give how pip is run for .venv: its own, or else this Python's. Raises CannotInstallError."""
    if any(VENV.glob("lib/python3*/site-packages/pip")):
        return [str(python()), "-m", "pip"]
    outside = [base_python(), "-m", "pip"]
    if subprocess.run([*outside, "--version"], capture_output=True, check=False).returncode:
        shutil.rmtree(VENV)
        raise CannotInstallError(NO_PIP)
    return [*outside, "--python", str(python())]


def count_in_place() -> int:
    """Count the libraries that lie in .venv."""
    return sum(1 for _each in VENV.glob("lib/python3*/site-packages/*.dist-info"))


def base_python() -> str:
    """Return the interpreter that environments are made from, also inside one."""
    return str(getattr(sys, "_base_executable", sys.executable))

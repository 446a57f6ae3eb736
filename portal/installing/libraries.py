"""See that the pinned libraries are there, in .venv, and start the command again inside it.

Every start passes here, so what only an installing one needs is taken in when it comes to that.
"""

import hashlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).resolve().parents[2]
VENV = (HERE / ".venv").resolve()
LISTS = {"requirements.txt": HERE / "requirements.txt", "tests": HERE / "tests/requirements.txt"}
# What is installed: the lists with all that they need in turn, and hashes; written by .ci/lock.
LOCKS = {
    "requirements.txt": HERE / "portal/installing/requirements.lock",
    "tests": HERE / "tests/requirements.lock",
}
STAMP = VENV / "installed-requirements"  # which locks are in it, by their SHA-256
UNFINISHED = VENV / "unfinished"  # is there from before the first library until after the last


def have_libraries(arguments: Sequence[str]) -> None:
    """Return where this process has what the command in *arguments* needs, else start it again."""
    wanted = ["requirements.txt", *(["tests"] if arguments[1:2] == ["test"] else [])]
    inside = Path(sys.prefix).resolve() == VENV
    if not is_ready(wanted):
        from .making import has_all, make_or_exit

        if not inside and has_all(wanted):
            return  # An environment of one's own.
        make_or_exit(wanted)
    elif inside:
        return
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONHOME"}
    os.execve(python(), [str(python()), *arguments], environment)


def is_ready(wanted: Sequence[str]) -> bool:
    """Tell whether .venv holds the *wanted* lists as they are locked today, whole."""
    current = {name: digest(LOCKS[name]) for name in wanted}
    return python().exists() and not UNFINISHED.exists() and current.items() <= stamped().items()


def stamped() -> dict[str, str]:
    """Return what .venv says it holds."""
    return dict(line.split() for line in STAMP.read_text().splitlines()) if STAMP.exists() else {}


def python() -> Path:
    """Return the interpreter of .venv."""
    return VENV / "bin/python"


def digest(path: Path) -> str:
    """Return the SHA-256 of the file at *path*, in hex."""
    return hashlib.sha256(path.read_bytes()).hexdigest()

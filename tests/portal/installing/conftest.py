"""A clone of what starts the portal, with tiny libraries to install."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from tests.portal.installing.index import SOURCES, Index, locked, served

ROOT = Path(__file__).resolve().parents[3]
LIMIT = 240.0  # seconds for one start, on a busy machine


@dataclass
class Clone:
    """A folder as a newcomer has it, and the environment that commands are started in."""

    folder: Path
    index_url: str
    more: dict[str, str] = field(default_factory=dict)
    python: str = str(getattr(sys, "_base_executable", sys.executable))

    @property
    def venv(self) -> Path:
        """Return the folder that the libraries go to."""
        return self.folder / ".venv"

    @property
    def environment(self) -> dict[str, str]:
        """Return an environment with nothing of this machine's but programs and a home."""
        return {
            "PATH": os.environ["PATH"],
            "HOME": str(self.folder.parent),
            "PIP_CONFIG_FILE": os.devnull,
            "PIP_INDEX_URL": self.index_url,
            **self.more,
        }

    def ask_for(self, *names: str) -> None:
        """Let the clone need the libraries *names*, by its list and by its lock."""
        cost = "# Cost: 2 libraries, 1 MB to fetch, 3 MB on disk, 4 seconds\n"
        listed = "".join(f"{name}==1.0\n" for name in names)
        (self.folder / "requirements.txt").write_text(cost + listed)
        (self.folder / "portal/installing/requirements.lock").write_text(locked(*names))

    def lack(self, *modules: str) -> None:
        """Let the Python that starts find *modules* not to be there."""
        hidden = self.folder.parent / "hidden"
        hidden.mkdir()
        hide = f"import sys\nsys.modules |= dict.fromkeys({modules!r})\n"
        (hidden / "sitecustomize.py").write_text(hide)
        self.more["PYTHONPATH"] = str(hidden)

    def begin(self, command: str = "check") -> subprocess.Popen[str]:
        """Start a command, with a group of its own, and do not wait."""
        return subprocess.Popen(
            [self.python, "manage.py", command],
            cwd=self.folder,
            env=self.environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
            # Where the tests run in the background, a shell has told them to ignore Ctrl-C.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
        )

    def start(self, command: str = "check") -> tuple[int, str, str]:
        """Start a command; give how it ended, its output, and what was said about it."""
        process = self.begin(command)
        output, said = process.communicate(timeout=LIMIT)
        return process.returncode, output, said


@pytest.fixture
def index() -> Iterator[Index]:
    """Return a package index on this machine."""
    with served() as index:
        yield index


def copy_start(folder: Path) -> None:
    """Copy to *folder* what a first start needs before there is a library."""
    shutil.copytree(ROOT / "portal/installing", folder / "portal/installing")
    shutil.copy(ROOT / "manage.py", folder)
    (folder / "portal/supervisor").mkdir()
    (folder / "portal/supervisor/sentences.py").write_text(
        "from contextlib import nullcontext as in_sentences\n"
    )


@pytest.fixture
def clone(tmp_path: Path, index: Index) -> Clone:
    """Return a clone in a folder with a space and a letter that English has not."""
    folder = tmp_path / "my café" / "kitchen"
    copy_start(folder)
    (folder / "tests").mkdir()
    (folder / "tests/requirements.txt").write_text("")
    clone = Clone(folder, index.url)
    clone.ask_for(*SOURCES)
    return clone


@pytest.fixture
def quick_clone(clone: Clone) -> Clone:
    """Return a clone whose environment has no pip of its own: making one takes seconds."""
    clone.lack("ensurepip")
    return clone

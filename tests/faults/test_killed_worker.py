"""A worker is killed in the middle of a clip, and the broker forgets: the clip is ready, once.

Everything is real: broker, worker with its beat, database file, decoder, and kill -9.
"""

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import psutil
import pytest
import redis

from portal.supervisor import broker
from portal.supervisor.sockets import socket_path
from tests.evidence.media import made

pytestmark = [pytest.mark.stack, pytest.mark.proof]
ROOT = Path(__file__).resolve().parents[2]
PATIENCE = 240.0  # seconds; a lease of 45 and a sweep every 20 on a busy machine


@dataclass
class Machine:
    """One machine with a data folder, a broker, and a worker that can be killed."""

    data: Path
    processes: list[subprocess.Popen[bytes]] = field(default_factory=list)

    @property
    def environment(self) -> dict[str, str]:
        """Return the environment of the portal's processes."""
        kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
        settings = {"DJANGO_SETTINGS_MODULE": "portal.settings", "DATA_DIR": str(self.data)}
        return {**kept, **settings, "PYTHONDONTWRITEBYTECODE": "1"}

    def run(self, *arguments: str) -> str:
        """Run Python with *arguments* to its end, and give what it printed."""
        ran = subprocess.run(
            [sys.executable, *arguments],
            cwd=ROOT, env=self.environment, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert ran.returncode == 0, ran.stderr
        return ran.stdout

    def start(self, command: list[str], log: str) -> subprocess.Popen[bytes]:
        """Start a process in a group of its own."""
        with (self.data / log).open("ab") as said:
            process = subprocess.Popen(
                command,
                cwd=ROOT, env=self.environment, stdout=said, stderr=said, start_new_session=True,
            )  # fmt: skip
        self.processes.append(process)
        return process

    def start_worker(self) -> subprocess.Popen[bytes]:
        """Start a worker and its beat."""
        options = ["--concurrency", "1", "--beat", "--schedule", str(self.data / "beat")]
        command = [sys.executable, "-m", "celery", "-A", "portal", "worker", *options]
        return self.start(command, "worker-said")

    def ask(self, query: str) -> list[tuple]:
        """Ask the portal's database."""
        with sqlite3.connect(self.data / "kitchen-counter.sqlite3", timeout=20) as database:
            return database.execute(query).fetchall()

    def wait_for(self, what: str, is_so: Callable[[], bool], seconds: float = PATIENCE) -> None:
        """Wait until *is_so*; fail after so many *seconds*."""
        deadline = time.monotonic() + seconds
        while not is_so():
            said = (self.data / "worker-said").read_text()[-3000:]
            assert time.monotonic() < deadline, f"{what} did not come about.\n{said}"
            time.sleep(0.05)


def kill(process: subprocess.Popen[bytes]) -> None:
    """Kill the whole group of *process* at once, with no chance to tidy up."""
    os.killpg(process.pid, signal.SIGKILL)
    process.wait()


@pytest.fixture
def machine() -> Iterator[Machine]:
    data = Path(tempfile.mkdtemp(prefix="kc-"))
    machine = Machine(data)
    try:
        machine.start(broker.command(data, broker.first_of_own()), "broker-said")
        broker.wait_until_ready(data)
        machine.run("manage.py", "migrate", "--verbosity", "0")
        yield machine
    finally:
        for process in machine.processes:
            if process.poll() is None:
                kill(process)
        shutil.rmtree(data)


def decoders(data: Path) -> list[psutil.Process]:
    """List the processes that work in a folder of the store."""
    found = []
    for process in psutil.process_iter():
        try:
            if process.cwd().startswith(str(data)):
                found.append(process)
        except (psutil.NoSuchProcess, psutil.AccessDenied):
            continue
    return found


def test_a_clip_whose_worker_was_killed_is_ready_once_and_leaves_nothing_behind(machine, tmp_path):
    clip = made.clip(tmp_path / "clip.mp4", seconds=40, size=(1920, 1080))
    worker = machine.start_worker()
    piece = machine.run("-m", "tests.faults.one_clip", str(clip)).strip()
    state = f"SELECT state, attempts FROM evidence_piece WHERE id = {int(piece)}"
    work = machine.data / "media" / "work"
    machine.wait_for("the decoder", lambda: any(work.glob("*/*/clip.mp4*")) or decoders(work))
    assert machine.ask(state) == [("arrived", 1)]

    kill(worker)
    redis.Redis(unix_socket_path=str(socket_path(machine.data))).flushall()
    machine.wait_for("the decoder's end", lambda: not decoders(work), seconds=10)
    assert machine.ask(state) == [("arrived", 1)]
    machine.start_worker()

    machine.wait_for("the clip", lambda: machine.ask(state) == [("ready", 2)])
    made_of_it = machine.ask("SELECT role, page, name FROM evidence_rendition ORDER BY role")
    assert [row[:2] for row in made_of_it] == [("clip", 1), ("poster", 1), ("thumb", 1)]
    machine.wait_for("an empty workplace", lambda: not any(work.iterdir()), seconds=10)
    media = machine.data / "media"
    files = {str(path.relative_to(media)) for path in media.rglob("*") if path.is_file()}
    assert files == {row[2] for row in made_of_it}

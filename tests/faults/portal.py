"""A portal with a street of homes, whose parts can be stopped, starved and cut off."""

import json
import os
import shutil
import sqlite3
import subprocess
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import psutil
import redis

from portal.supervisor import broker
from portal.supervisor.sockets import socket_path
from tests.faults.phone import Phone
from tests.stack import Stack, broker_url, start_broker, wait_for

UNFINISHED = "SELECT count(*) FROM evidence_piece WHERE state = 'arrived' AND withdrawn_at IS NULL"


@dataclass
class Portal(Stack):
    """A real portal on this machine; `more` is added to its environment."""

    more: dict[str, str] = field(default_factory=dict)

    @property
    def environment(self) -> dict[str, str]:
        """Return the environment of the portal's own processes."""
        return {**super().environment, **self.more}

    @property
    def media(self) -> Path:
        """Return the folder of the store."""
        return self.data / "media"

    def settle(self) -> None:
        """Build the street in a database that is not there yet."""
        self.prepare()
        self.python("tests.faults.street")

    def phones(self) -> list[Phone]:
        """Return the phone of each home of the street."""
        street = json.loads((self.data / "street.json").read_text())
        return [
            Phone(self.url, home["session"], home["child"], street["day"])
            for home in street["homes"]
        ]

    def teacher(self) -> Phone:
        """Return the screen of the class's teacher."""
        street = json.loads((self.data / "street.json").read_text())
        return Phone(self.url, street["teacher"], 0, street["day"])

    def ask(self, query: str) -> list[tuple]:
        """Ask the portal's database."""
        database = sqlite3.connect(self.data / "kitchen-counter.sqlite3", timeout=20)
        try:
            return database.execute(query).fetchall()
        finally:
            database.close()

    def count(self, query: str) -> int:
        """Ask for one number."""
        return self.ask(query)[0][0]

    def wait_until_done(self, seconds: float = 120) -> None:
        """Wait until no piece is unfinished."""
        wait_for(lambda: self.count(UNFINISHED) == 0, seconds, "the pieces")

    def accounts(self, phones: list[Phone]) -> dict[str, int]:
        """Compare what was acknowledged with what there is: lost, stuck, twice, left over."""
        acknowledged = Counter(each for phone in phones for each in phone.saved)
        rows = self.ask(
            "SELECT sha256, count(*) FROM evidence_piece WHERE withdrawn_at IS NULL GROUP BY sha256"
        )
        stored = dict(rows)
        named = {name for (name,) in self.ask("SELECT name FROM evidence_rendition")}
        kept = "SELECT original FROM evidence_piece WHERE original != ''"
        named |= {name for (name,) in self.ask(kept)}
        files = {str(path.relative_to(self.media)) for path in self.stored_files()}
        return {
            "lost": len(acknowledged - Counter(stored)),
            "stuck": self.count(UNFINISHED),
            "twice": sum(times > acknowledged[sha] for sha, times in rows if acknowledged[sha]),
            "without a file": len(named - files),
            "without a row": len(files - named),
        }

    def stored_files(self) -> list[Path]:
        """List the files that pieces are made of, or have become."""
        areas = (self.media / area for area in ("originals", "renditions"))
        return [path for area in areas for path in area.rglob("*") if path.is_file()]

    def part(self, word: str) -> psutil.Process:
        """Return the process, started by the portal itself, with *word* in its command."""

        def found() -> list[psutil.Process]:
            children = psutil.Process(self.process.pid).children()
            return [each for each in children if word in " ".join(each.cmdline())]

        return wait_for(found, 30, f"the part of the portal with {word}")[0]

    def decoders(self, piece: int | None = None) -> list[psutil.Process]:
        """List the processes that decode a piece just now."""
        place = str(self.media / "work" / ("" if piece is None else f"{piece}-"))
        found = []
        for process in psutil.process_iter():
            try:
                if process.cwd().startswith(place):
                    found.append(process)
            except (psutil.NoSuchProcess, psutil.AccessDenied, psutil.ZombieProcess):
                continue
        return found


WELL = {"lost": 0, "stuck": 0, "twice": 0, "without a file": 0, "without a row": 0}


@contextmanager
def running(ground: Path, data: Path, command: str = "serve", **more: str) -> Iterator[Portal]:
    """Run a portal on a copy of the street at *ground*, and stop it at the end."""
    shutil.copytree(ground, data, dirs_exist_ok=True)
    if command == "demo":
        (data / "demo-school").touch()  # The street is as invented as the demo's own school.
    portal = Portal(data, command, more=more).start()
    try:
        yield portal
    finally:
        if portal.process.poll() is None:
            portal.stop()


@dataclass
class Redis:
    """A broker of the test's own, for a portal that is told where it is."""

    folder: Path
    process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        """Return the REDIS_URL."""
        return broker_url(self.folder)

    @property
    def client(self) -> redis.Redis:
        """Return a line to it."""
        return redis.Redis(unix_socket_path=str(socket_path(self.folder)))

    def start(self) -> "Redis":
        """Start it, with nothing in it."""
        shutil.rmtree(self.folder / "broker", ignore_errors=True)
        self.process = start_broker(self.folder, broker.first_of_own())
        return self

    def stop(self) -> None:
        """Stop it, and forget everything in it."""
        self.process.terminate()
        self.process.wait(10)
        socket_path(self.folder).unlink(missing_ok=True)


NO_MOUNT = "only root may mount the small file system that these tests fill, on Linux"


def may_mount() -> bool:
    """Whether this user may mount a file system."""
    return os.geteuid() == 0 and shutil.which("mount") is not None

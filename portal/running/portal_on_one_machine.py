"""Starts, watches and stops a portal on this machine."""

import fcntl
import os
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Self

from portal.running import broker
from portal.running.processes import Household, Service

ROOT = Path(__file__).resolve().parents[2]
MANAGE = [sys.executable, str(ROOT / "manage.py")]
PYTHON = (sys.executable, "-m")


class CannotStartError(Exception):
    """The portal cannot start; the message says why, and what to do."""


@dataclass(frozen=True)
class Plan:
    """What to run: where the data is, where to listen, and with how many hands.

    database: the file of SQLite; None where another database is used.
    """

    data: Path
    database: Path | None
    host: str
    port: int
    web_workers: int
    job_workers: int
    own_broker: bool
    environment: dict[str, str]

    @classmethod
    def of(cls, settings: Any, options: dict[str, Any]) -> Self:
        """Give the plan that *settings* and the command's *options* ask for."""
        database = settings.DATABASES["default"]
        return cls(
            data=settings.DATA_DIR,
            database=Path(database["NAME"]) if "sqlite3" in database["ENGINE"] else None,
            host=options["host"],
            port=options["port"],
            web_workers=settings.WEB_WORKERS,
            job_workers=settings.JOB_WORKERS,
            own_broker="REDIS_URL" not in os.environ,
            environment={**os.environ, "DJANGO_SETTINGS_MODULE": "portal.settings"},
        )


def run(plan: Plan, say: Callable[[str], None], when_ready: Callable[[], None]) -> None:
    """Run the portal of *plan* until Ctrl-C or SIGTERM, then stop all of it.

    Raises CannotStartError when the data is in use, the port is taken or nothing answers.
    """
    with only_user_of(plan.data):
        check_port(plan.host, plan.port)
        prepared = subprocess.run([*MANAGE, "prepare"], env=plan.environment, check=False)
        if prepared.returncode:
            raise CannotStartError("The data could not be prepared: see the lines above.")
        household = Household(say)
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, lambda *_args: setattr(household, "stopping", True))
        with kept_open(plan.database):
            try:
                open_the_door(plan, household)
                wait_for_first_page(plan, household)
                start_work(plan, household)
                if not household.stopping:
                    when_ready()
                household.watch()
            finally:
                say("Stopping.")
                household.stop()


@contextmanager
def kept_open(database: Path | None) -> Iterator[None]:
    """Hold *database* open, so that SQLite's log stays beside it.

    The last to close it removes the log; on a full disk nobody could make it anew, and then not
    even a page that only reads could be served.
    """
    if database is None:
        yield
        return
    held = sqlite3.connect(database)
    try:
        held.execute("SELECT count(*) FROM sqlite_master").fetchone()
        yield
    finally:
        held.close()


def open_the_door(plan: Plan, household: Household) -> None:
    """Start the broker, then the web server."""
    if plan.own_broker:
        start(plan, household, "job broker", *broker.command(plan.data))
        broker.wait_until_ready(plan.data)
    start(
        *(plan, household, "web server"),
        *(*PYTHON, "gunicorn", "portal.wsgi", "--chdir", str(ROOT)),
        *("--bind", f"{plan.host}:{plan.port}", "--workers", str(plan.web_workers)),
        # Of these, 40 at most take in work over slow lines; pages are served by the others.
        *("--worker-class", "gthread", "--threads", "64", "--timeout", "120"),
        *("--worker-tmp-dir", str(plan.data), "--log-level", "warning", "--no-control-socket"),
    )


def start_work(plan: Plan, household: Household) -> None:
    """Start worker and beat: after the first page, since their start would hold it up."""
    if household.stopping:
        return
    celery = (*PYTHON, "celery", "--quiet", "--app", "portal", "--workdir", str(ROOT))
    quiet = ("--loglevel", "warning")
    # Each piece is decoded in a child of its own, so threads are enough and start at once.
    start(
        *(plan, household, "worker"),
        *(*celery, "worker", *quiet, "--pool", "threads", "--without-gossip", "--without-mingle"),
        *("--concurrency", str(plan.job_workers), "--hostname", f"worker-{plan.port}@%h"),
    )
    schedule = str(plan.data / "beat-schedule")
    start(plan, household, "beat", *celery, "beat", *quiet, "--schedule", schedule, "--pidfile", "")


def start(plan: Plan, household: Household, name: str, *command: str) -> None:
    """Add the service *name* to *household*."""
    household.add(Service(name, command, plan.environment))


def wait_for_first_page(plan: Plan, household: Household, seconds: float = 60.0) -> None:
    """Wait until /healthz answers. Raises CannotStartError when it does not."""
    address = f"http://{'127.0.0.1' if plan.host == '0.0.0.0' else plan.host}:{plan.port}/healthz"  # noqa: S104
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline and not household.stopping:
        try:
            with urllib.request.urlopen(address, timeout=2):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    if not household.stopping:
        raise CannotStartError("The web server does not answer: see the lines above.")


def check_port(host: str, port: int) -> None:
    """Raise CannotStartError when nobody can listen there, or somebody does."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            hint = f"Cannot listen on {host}:{port} ({error.strerror}). Choose another --port."
            raise CannotStartError(hint) from error


@contextmanager
def only_user_of(data: Path) -> Iterator[None]:
    """Hold *data* for this portal alone. Raises CannotStartError when another one has it."""
    data.mkdir(mode=0o700, parents=True, exist_ok=True)
    with (data / "in-use").open("a") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            hint = f"Another portal runs on {data}. Stop it, or choose another folder with --data."
            raise CannotStartError(hint) from error
        os.set_inheritable(lock.fileno(), False)
        yield

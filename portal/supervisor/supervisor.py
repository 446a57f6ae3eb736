"""Starts, watches and stops a portal on this machine."""

import fcntl
import os
import signal
import socket
import sqlite3
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Self

from django.core.management import call_command
from django.db import DatabaseError, connections

from portal.supervisor import broker, interrupts, preparing
from portal.supervisor.broker import Broker
from portal.supervisor.processes import PATIENCE, Household, Service

ROOT = Path(__file__).resolve().parents[2]
MANAGE = [sys.executable, str(ROOT / "manage.py")]
PYTHON = (sys.executable, "-m")
PATIENT = "portal.supervisor.patient.PatientWorker"
EVERYWHERE = {"0.0.0.0": "127.0.0.1", "::": "::1"}  # noqa: S104 - where to ask a door open to all


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
    broker: Broker
    environment: dict[str, str]

    @classmethod
    def of(cls, settings: Any, options: dict[str, Any]) -> Self:
        """Return the plan that *settings* and the command's *options* ask for.

        Raises CannotStartError where there is no job broker.
        """
        database = settings.DATABASES["default"]
        return cls(
            data=settings.DATA_DIR,
            database=Path(database["NAME"]) if "sqlite3" in database["ENGINE"] else None,
            host=options["host"],
            port=options["port"],
            web_workers=settings.WEB_WORKERS,
            job_workers=settings.JOB_WORKERS,
            broker=broker_here(),
            environment={**os.environ, "DJANGO_SETTINGS_MODULE": "portal.settings"},
        )


def broker_here() -> Broker:
    """Return the job broker of this machine. Raises CannotStartError where there is none."""
    try:
        return broker.choose()
    except broker.NoBrokerError as error:
        raise CannotStartError(str(error)) from error


def run(plan: Plan, say: Callable[[str], None], when_ready: Callable[[], None]) -> None:
    """Run the portal of *plan* until Ctrl-C or SIGTERM, then stop all of it.

    Raises CannotStartError when the data is in use, the port is taken or nothing answers.
    """
    household = Household(say)
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_args: setattr(household, "stopping", True))
    household.stopping = interrupts.were_heard()
    try:
        with only_user_of(plan.data), listening(plan.host, plan.port) as door:
            say(f"Job broker: {plan.broker.words}.")
            prepare(plan, household)
            with kept_open(plan.database):
                try:
                    open_the_door(plan, household, door)
                    start_work(plan, household)
                    if not household.stopping:
                        when_ready()
                    household.watch()
                finally:
                    say("Stopping.")
                    household.stop()
    finally:
        household.release()


def prepare(plan: Plan, household: Household) -> None:
    """Bring the data up to date. Raises CannotStartError when that does not succeed."""
    try:
        due = preparing.is_due(plan.data)
        if not due:  # The little that is done each time needs no process of its own.
            call_command("prepare")
        connections.close_all()
    except DatabaseError as error:
        raise CannotStartError(f"The database cannot be used: {error}".rstrip()) from error
    if due:
        service = Service("preparation", [*MANAGE, "prepare"], plan.environment)
        if household.run_to_end(service) and not household.stopping:
            raise CannotStartError("The data could not be prepared: see the lines above.")


@contextmanager
def kept_open(database: Path | None) -> Iterator[None]:
    """Hold *database* open, so that SQLite's log stays beside it.

    The last to close it removes the log; on a full disk nobody could make it again, and then not
    even a page that only reads could be served.
    """
    if database is None:
        yield
        return
    connection = sqlite3.connect(database)
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        yield
    finally:
        connection.close()


def open_the_door(plan: Plan, household: Household, door: socket.socket) -> None:
    """Start the broker, then the web server, and wait for the first page."""
    if household.stopping:
        return
    if plan.broker.program:
        start_broker(plan, household)
    web = (*PYTHON, "gunicorn", "portal.wsgi", "--chdir", str(ROOT))
    command = (
        # Handed an open door, it can be started again while others wait there.
        *(*web, "--bind", f"fd://{door.fileno()}", "--workers", str(plan.web_workers)),
        # Of these, 40 at most take in work over slow lines; pages are served by the others.
        *("--worker-class", PATIENT, "--threads", "64", "--timeout", "120"),
        *("--worker-tmp-dir", str(plan.data), "--log-level", "warning", "--no-control-socket"),
        *("--graceful-timeout", str(int(PATIENCE) - 2)),
    )
    household.add(Service("web server", command, plan.environment, lines=(door.fileno(),)))
    wait_for_first_page(plan, household)
    if plan.broker.program:
        wait_for_broker(plan, household)


def start_broker(plan: Plan, household: Household) -> None:
    """Start the broker. Raises CannotStartError where its socket cannot be kept private."""
    try:
        command = broker.command(plan.data, plan.broker)
    except OSError as error:
        raise CannotStartError(str(error)) from error
    household.add(Service("job broker", command, plan.environment, needed_by_all=True))


def wait_for_broker(plan: Plan, household: Household) -> None:
    """Wait for the broker's first answer. Raises CannotStartError when there is none."""
    try:
        broker.wait_until_ready(plan.data, given_up=lambda: not household.tend())
    except broker.NoBrokerError as error:
        raise CannotStartError(str(error)) from error


def start_work(plan: Plan, household: Household) -> None:
    """Start worker and beat: after the first page, since their start would hold it up."""
    if household.stopping:
        return
    celery = (*PYTHON, "celery", "--quiet", "--app", "portal", "--workdir", str(ROOT))
    quiet = ("--loglevel", "warning")
    start(
        *(plan, household, "worker"),
        *(*celery, "worker", *quiet, "--without-gossip", "--without-mingle"),
        *("--hostname", f"worker-{plan.port}@%h"),
    )
    schedule = str(plan.data / "beat-schedule")
    start(plan, household, "beat", *celery, "beat", *quiet, "--schedule", schedule, "--pidfile", "")


def start(plan: Plan, household: Household, name: str, *command: str) -> None:
    """Add the service *name* to *household*."""
    household.add(Service(name, command, plan.environment))


def wait_for_first_page(plan: Plan, household: Household, seconds: float = 60.0) -> None:
    """Wait until /healthz answers. Raises CannotStartError when it does not."""
    host = EVERYWHERE.get(plan.host, plan.host)
    address = f"http://{f'[{host}]' if ':' in host else host}:{plan.port}/healthz"
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline and household.tend():
        try:
            with urllib.request.urlopen(address, timeout=2):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    if not household.stopping:
        raise CannotStartError("The web server does not answer: see the lines above.")


@contextmanager
def listening(host: str, port: int) -> Iterator[socket.socket]:
    """Listen at *host* and *port*: who comes early waits. Raises CannotStartError if none can."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as door:
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            door.bind((host, port))
            door.listen(2048)
        except OSError as error:
            hint = f"Cannot listen on {host}:{port} ({error.strerror}). Choose another --port."
            raise CannotStartError(hint) from error
        yield door


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

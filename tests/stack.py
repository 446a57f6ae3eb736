"""The whole portal as people run it: real server, worker, beat, broker and database."""

import atexit
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from urllib.parse import quote

import psutil

from portal.supervisor import broker
from portal.supervisor.sockets import socket_path

ROOT = Path(__file__).resolve().parents[1]
START_LIMIT = 240.0  # seconds, on a busy machine


def free_port() -> int:
    """Return a port that nobody listens on now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@dataclass
class Stack:
    """A portal in *data*, started by the command people use, `demo` or `serve`."""

    data: Path
    command: str = "serve"
    port: int = field(default_factory=free_port)
    process: subprocess.Popen[str] | None = None
    own_broker: subprocess.Popen[bytes] | None = None
    before: tuple[str, ...] = ()  # words before the command, to start it as somebody else

    @property
    def needs_broker(self) -> bool:
        """Whether `serve` would refuse to start here, since there is no Redis on this machine."""
        return self.command == "serve" and not (broker.installed() or broker.embedded())

    @property
    def url(self) -> str:
        """Return the address of the portal."""
        return f"http://localhost:{self.port}"

    @property
    def mails(self) -> Path:
        """Return the folder that mails are written to."""
        return self.data / "mails"

    @property
    def environment(self) -> dict[str, str]:
        """Return the environment the portal's own processes see."""
        kept = ("PATH", "HOME", "LANG", "TMPDIR", "VIRTUAL_ENV")
        return {
            **{name: os.environ[name] for name in kept if name in os.environ},
            "DATA_DIR": str(self.data),
            "SITE_URL": self.url,
            "EMAIL_URL": f"filemail:///{self.mails}",
            "PYTHONDONTWRITEBYTECODE": "1",
            **({"DEMO": "1"} if self.command == "demo" else {}),
            **({"REDIS_URL": broker_url(self.data)} if self.needs_broker else {}),
        }

    @property
    def arguments(self) -> list[str]:
        """Return what else the command is told, besides where the data is and the port."""
        return []

    def manage(self, *arguments: str, text: str | None = None) -> str:
        """Run a command of manage.py beside the portal, and give what it printed."""
        ran = subprocess.run(
            [sys.executable, "manage.py", *arguments],
            cwd=ROOT,
            env=self.environment,
            input=text,
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, ran.stdout + ran.stderr
        return ran.stdout

    def prepare(self) -> "Stack":
        """Fill the data folder as the command `prepare` does: that ran once, and is copied."""
        shutil.copytree(prepared(self.command), self.data, dirs_exist_ok=True)
        return self

    def python(self, module: str) -> None:
        """Run a module of the tests with the portal's settings and data."""
        subprocess.run(
            [sys.executable, "-m", module],
            cwd=ROOT,
            env={**self.environment, "DJANGO_SETTINGS_MODULE": "portal.settings"},
            check=True,
        )

    def start(self) -> "Stack":
        """Start everything and wait until pages are served."""
        self.launch()
        deadline = time.monotonic() + START_LIMIT
        while time.monotonic() < deadline and self.process.poll() is None:
            if self.is_well():
                return self
            time.sleep(0.1)
        raise AssertionError(f"did not start:\n{self.said}")

    def launch(self) -> None:
        """Start everything, and wait for nothing."""
        self.data.mkdir(parents=True, exist_ok=True)
        self.mails.mkdir(exist_ok=True)
        if self.needs_broker and (self.own_broker is None or self.own_broker.poll() is not None):
            self.own_broker = start_broker(self.data, broker.python())
        said = (self.data / "said").open("w")
        self.process = subprocess.Popen(
            [
                *(*self.before, sys.executable, "manage.py", self.command),
                *("--port", str(self.port), "--data", str(self.data), *self.arguments),
            ],
            cwd=ROOT,
            env=self.environment,
            stdout=said,
            stderr=subprocess.STDOUT,
            text=True,
        )

    @property
    def said(self) -> str:
        """Return what the portal has printed."""
        return (self.data / "said").read_text()

    def is_well(self) -> bool:
        """Whether /healthz answers 200."""
        try:
            with urllib.request.urlopen(f"{self.url}/healthz", timeout=20) as answer:
                return answer.status == 200
        except (urllib.error.URLError, OSError):
            return False

    def stop(self) -> int:
        """Press Ctrl-C, and give the exit code."""
        self.process.send_signal(signal.SIGINT)
        code = self.process.wait(120)
        if self.own_broker is not None:
            self.own_broker.kill()
            self.own_broker.wait()
        return code

    def broker(self) -> psutil.Process:
        """Return the process of the broker, whichever it is."""
        if self.own_broker is not None:
            return psutil.Process(self.own_broker.pid)
        name = socket_path(self.data).name
        children = psutil.Process(self.process.pid).children()
        return next(each for each in children if name in " ".join(each.cmdline()))


def broker_url(data: Path) -> str:
    """Return the REDIS_URL of a broker of the test's own at *data*."""
    return f"redis+socket://{quote(str(socket_path(data)))}"


def start_broker(data: Path, chosen: broker.Broker) -> subprocess.Popen[bytes]:
    """Start a broker at *data* and wait for its first answer."""
    process = subprocess.Popen(broker.command(data, chosen), stdout=subprocess.DEVNULL)
    atexit.register(process.kill)
    broker.wait_until_ready(data)
    return process


@cache
def prepared(command: str) -> Path:
    """Return a data folder to copy, ready to be started from by `serve` or `demo`."""
    folder = Path(tempfile.mkdtemp(prefix="kc-prepared-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    Stack(folder / "data", command).manage("prepare")
    return folder / "data"


def wait_for(ready, seconds: float = 180.0, what: str = "it"):
    """Call *ready* until it gives something true, and give that. Fails after *seconds*."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        if found := ready():
            return found
        time.sleep(0.1)
    raise AssertionError(f"waited {seconds} s for {what}")

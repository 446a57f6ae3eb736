"""Child processes that are kept alive until the portal is told to stop."""

import ctypes
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

PR_SET_PDEATHSIG = 1  # prctl(2): the signal a child gets when its parent dies.
FIRST_PAUSE, LONGEST_PAUSE = 0.5, 30.0  # seconds before a child that ended is started again
PATIENCE = 15.0  # seconds for a child to end by itself


def follow_parent() -> None:
    """Ask Linux to end this child with its parent, so that nothing is left behind."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGTERM)


@dataclass
class Service:
    """One child process: its name for people, its command, and how it was last started."""

    name: str
    command: Sequence[str]
    environment: dict[str, str]
    process: subprocess.Popen[bytes] | None = None
    pause: float = FIRST_PAUSE
    started_at: float = 0.0

    def start(self) -> None:
        """Start the process in a group of its own, so that Ctrl-C reaches the launcher alone."""
        self.started_at = time.monotonic()
        self.process = subprocess.Popen(
            self.command,
            env=self.environment,
            stdin=subprocess.DEVNULL,
            start_new_session=True,
            preexec_fn=follow_parent,
        )

    @property
    def has_ended(self) -> bool:
        """Whether the process is there no more."""
        return self.process is not None and self.process.poll() is not None

    def stop(self) -> None:
        """End the process kindly, then for certain."""
        if self.process is None or self.has_ended:
            return
        self.process.terminate()
        try:
            self.process.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()


@dataclass
class Household:
    """All services of one portal. They are stopped in the opposite order of their start."""

    say: Callable[[str], None]
    services: list[Service] = field(default_factory=list)
    stopping: bool = False

    def add(self, service: Service) -> None:
        """Start *service* and watch it from now on."""
        service.start()
        self.services.append(service)

    def watch(self) -> None:
        """Start again what ends, more slowly each time, until `stopping` is set."""
        while not self.stopping:
            for service in self.services:
                if service.has_ended:
                    self.revive(service)
            time.sleep(0.2)

    def revive(self, service: Service) -> None:
        """Start an ended *service* again once its pause is over."""
        if time.monotonic() - service.started_at > LONGEST_PAUSE:
            service.pause = FIRST_PAUSE
        if time.monotonic() - service.started_at < service.pause:
            return
        self.say(f"The {service.name} ended and is started again.")
        service.pause = min(2 * service.pause, LONGEST_PAUSE)
        service.start()

    def stop(self) -> None:
        """Stop everything, the last started first."""
        for service in reversed(self.services):
            service.stop()

"""Child processes that are kept alive until the portal is told to stop."""

import ctypes
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

PR_SET_PDEATHSIG = 1  # prctl(2): the signal a child gets when its parent dies.
FIRST_PAUSE, LONGEST_PAUSE = 0.5, 30.0  # seconds before a child that ended is started again
PATIENCE = 10.0  # seconds for the children to end by themselves, all together


def follow_parent() -> None:
    """Ask Linux to end this child with its parent, so that nothing is left behind."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGTERM)


@dataclass
class Service:
    """One child process: its name for people, its command, and how it was last started.

    lines: file descriptors that it is handed. needed_by_all: it is stopped after all others.
    """

    name: str
    command: Sequence[str]
    environment: dict[str, str]
    lines: tuple[int, ...] = ()
    needed_by_all: bool = False
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
            pass_fds=self.lines,
            preexec_fn=follow_parent,
        )

    @property
    def has_ended(self) -> bool:
        """Whether the process has gone."""
        return self.process is not None and self.process.poll() is not None

    def ask_to_end(self) -> None:
        """Tell the process to end when it has done what it has in hand."""
        if self.process is not None and not self.has_ended:
            self.process.terminate()

    def end_by(self, deadline: float) -> None:
        """Wait for the process until *deadline*, by the monotonic clock, then end its group."""
        if self.process is None or self.has_ended:
            return
        try:
            self.process.wait(max(0.0, deadline - time.monotonic()))
        except subprocess.TimeoutExpired:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()


class Keeper:
    """A process that ends the children when the launcher is gone, however it went."""

    def __init__(self) -> None:
        """Start it."""
        program = Path(__file__).with_name("keeper.py")
        self._process = subprocess.Popen(
            [sys.executable, "-I", str(program)], stdin=subprocess.PIPE, start_new_session=True
        )

    def keep(self, groups: Sequence[int]) -> None:
        """Tell it which process groups there are now."""
        assert self._process.stdin is not None  # noqa: S101 - for the reader of types
        with suppress(BrokenPipeError):
            self._process.stdin.write(f"{' '.join(map(str, groups))}\n".encode())
            self._process.stdin.flush()

    def dismiss(self) -> None:
        """Let it go: there is nothing left to end."""
        self.keep(())
        self._process.communicate()


def keeper_where_needed() -> Keeper | None:
    """Return a keeper on systems that cannot end a child with its parent, as Linux does."""
    return None if sys.platform == "linux" else Keeper()


@dataclass
class Household:
    """All services of one portal."""

    say: Callable[[str], None]
    keeper: Keeper | None = field(default_factory=keeper_where_needed)
    services: list[Service] = field(default_factory=list)
    stopping: bool = False

    def add(self, service: Service) -> None:
        """Start *service* and watch it from now on."""
        self.services.append(service)
        self.start(service)

    def start(self, service: Service) -> None:
        """Start *service*, known to the keeper."""
        service.start()
        self.tell_keeper()

    def tell_keeper(self) -> None:
        """Tell the keeper what would have to be ended now."""
        if self.keeper is not None:
            alive = [each.process for each in self.services if not each.has_ended]
            self.keeper.keep([process.pid for process in alive if process is not None])

    def run_to_end(self, service: Service) -> int:
        """Run *service* once and give its exit code; when told to stop, end it and all it began."""
        self.add(service)
        process = service.process
        assert process is not None  # noqa: S101 - for the reader of types
        while process.poll() is None:
            if self.stopping:
                os.killpg(process.pid, signal.SIGTERM)
                service.end_by(time.monotonic() + PATIENCE)
            time.sleep(0.05)
        self.services.remove(service)
        self.tell_keeper()
        return process.returncode

    def watch(self) -> None:
        """Start again what ends, more slowly each time, until `stopping` is set."""
        while self.tend():
            time.sleep(0.2)

    def tend(self) -> bool:
        """Start again what has ended; tell whether the portal goes on.

        Whoever waits for a service calls this meanwhile: it may be killed before its first answer.
        """
        for service in self.services:
            if service.has_ended and not self.stopping:
                self.revive(service)
        return not self.stopping

    def revive(self, service: Service) -> None:
        """Start an ended *service* again once its pause is over."""
        if time.monotonic() - service.started_at > LONGEST_PAUSE:
            service.pause = FIRST_PAUSE
        if time.monotonic() - service.started_at < service.pause:
            return
        self.say(f"The {service.name} ended and is started again.")
        service.pause = min(2 * service.pause, LONGEST_PAUSE)
        self.start(service)

    def stop(self) -> None:
        """Stop everything at once, but last of all what the others need to finish."""
        for last in (False, True):
            leaving = [each for each in self.services if each.needed_by_all == last]
            for service in leaving:
                service.ask_to_end()
            deadline = time.monotonic() + PATIENCE / (4 if last else 1)
            for service in leaving:
                service.end_by(deadline)

    def release(self) -> None:
        """Let the keeper go, once everything has ended."""
        if self.keeper is not None:
            self.keeper.dismiss()

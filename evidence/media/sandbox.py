"""Run the child process that decodes one file, and read what became of it."""

import contextlib
import json
import os
import select
import signal
import subprocess
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Any, BinaryIO, Self

from evidence.media.draft import ANSWER, TRY_LATER, Draft, Piece
from evidence.media.limits import Limits
from evidence.media.outcome import (
    KilledError,
    Kind,
    Recognised,
    RefusalReason,
    Refused,
    Role,
    TryLaterError,
)

WORKER = Path(__file__).with_name("worker.py")
# Nothing of this process's environment: it may hold keys to the database and the store.
# Two arenas keep threads from reserving address space that the memory limit would count.
ENVIRONMENT = {"LC_ALL": "C.UTF-8", "MALLOC_ARENA_MAX": "2"}
ANSWER_BYTES = 100_000

# A decoder that ends itself this way was broken by its file.
CRASHES = {signal.SIGSEGV, signal.SIGABRT, signal.SIGBUS, signal.SIGFPE, signal.SIGILL}


class Child:
    """One decoder at work. Use as a context manager: leaving it ends the whole process group."""

    def __init__(
        self, source: BinaryIO, work: Path, found: Recognised, turn: int, limits: Limits
    ) -> None:
        """Start decoding *source*, an open file, with *work* as the only place to write."""
        order = {
            "kind": found.kind,
            "format": found.format,
            "turn": turn,
            "limits": asdict(limits),
        }
        self.wall_seconds = limits.allowance(found.kind).wall_seconds
        self.work = work
        self.process = subprocess.Popen(
            [sys.executable, "-I", str(WORKER), json.dumps(order)],
            stdin=source,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            cwd=work,
            env=ENVIRONMENT,
            start_new_session=True,
        )

    def __enter__(self) -> Self:
        """Give the running child."""
        return self

    def __exit__(self, *_: object) -> None:
        """End whatever of the group still runs."""
        self._end()

    def result(self) -> Draft | Refused:
        """Wait for the child and give what it made. Raises TryLaterError, KilledError."""
        if not self._ends_within(self.wall_seconds):
            return Refused(RefusalReason.TOOK_TOO_LONG, f"{self.wall_seconds} s of clock")
        code = self._end()
        if code == 0:
            return self._answer()
        if -code == signal.SIGXCPU:
            return Refused(RefusalReason.TOOK_TOO_LONG, "processor time used up")
        if -code in CRASHES:
            return Refused(RefusalReason.UNREADABLE, f"decoder ended by signal {-code}")
        if -code == signal.SIGKILL:
            raise KilledError("decoder was killed")
        why = "machine" if code == TRY_LATER else f"exit code {code}"
        raise TryLaterError(f"decoder stopped: {why}")

    def _end(self) -> int:
        """Kill the group while the child, even dead, still holds its number; give the exit code."""
        if self.process.returncode is None:
            with contextlib.suppress(ProcessLookupError, PermissionError):
                os.killpg(self.process.pid, signal.SIGKILL)
        return self.process.wait()

    def _ends_within(self, seconds: float) -> bool:
        """Wait for the end without polling, which would add up to 50 ms to every photo."""
        if not hasattr(os, "pidfd_open"):
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.process.wait(seconds)
            return self.process.returncode is not None
        handle = os.pidfd_open(self.process.pid)
        try:
            end = select.poll()
            end.register(handle, select.POLLIN)
            return bool(end.poll(seconds * 1000))
        finally:
            os.close(handle)

    def _answer(self) -> Draft | Refused:
        try:
            with (self.work / ANSWER).open("rb") as file:
                answer = json.loads(file.read(ANSWER_BYTES))
            if "refused" in answer:
                return Refused(RefusalReason(answer["refused"]), str(answer["detail"])[:200])
            return _draft(answer)
        except (OSError, ValueError, KeyError, TypeError) as error:
            return Refused(RefusalReason.UNREADABLE, f"no sound answer: {type(error).__name__}")


def _draft(answer: dict[str, Any]) -> Draft:
    pieces = tuple(
        Piece(Role(piece["role"]), str(piece["name"]), int(piece["width"]), int(piece["height"]))
        for piece in answer["pieces"]
    )
    width, height = int(answer["width"]), int(answer["height"])
    return Draft(Kind(answer["kind"]), pieces, width, height, float(answer["seconds"]))

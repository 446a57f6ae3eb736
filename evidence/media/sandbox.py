"""Run the child process that decodes one file, and judge what became of it."""

import contextlib
import json
import math
import os
import select
import signal
import subprocess
import sys
import tempfile
from dataclasses import asdict
from pathlib import Path
from typing import IO, Any, Self, cast

from evidence.media.calls import REFUSE
from evidence.media.draft import ROLES, TRY_LATER, Draft, DraftFile, names_of
from evidence.media.limits import LIMITS, Limits
from evidence.media.outcome import (
    CrashedError,
    Kind,
    Recognised,
    RefusalReason,
    Refused,
    Role,
    TryLaterError,
)
from evidence.media.walls import Walls
from evidence.media.workspace import give_to_a_user

WORKER = Path(__file__).with_name("worker.py")
# Nothing of this process's environment: it may hold keys to the database and the store.
# Two arenas keep threads from reserving address space that the memory limit would count.
ENVIRONMENT = {"LC_ALL": "C.UTF-8", "MALLOC_ARENA_MAX": "2"}
SAID_BYTES = 60_000  # less than a pipe holds (64 KiB on Linux, from memory)
UNLISTED = REFUSE  # what the kernel answers a call that no decoder should need

# An orderly end of the portal: whoever stops it asks all of its processes.
ASKED_TO_STOP = {signal.SIGTERM, signal.SIGINT, signal.SIGHUP}
# What a made-up answer may do to whoever reads it.
NONSENSE = (ValueError, KeyError, TypeError, IndexError, AttributeError, ArithmeticError)


class Child:
    """One decoder at work. Use as a context manager: leaving it ends the whole process group."""

    def __init__(
        self,
        source: IO[bytes] | int,
        work: Path,
        found: Recognised | None,
        turn: int,
        limits: Limits,
    ) -> None:
        """Start decoding *source*, an open file, with *work* as the only place to write.

        found: None has the child raise its walls and look at nothing.
        """
        self.kind = Kind.PHOTO if found is None else found.kind
        order = {
            "kind": self.kind,
            "format": None if found is None else found.format,
            "turn": turn,
            "limits": asdict(limits),
            "user": give_to_a_user(work),
            "unlisted": UNLISTED,
        }
        self.limits = limits
        self.wall_seconds = limits.allowance(self.kind).wall_seconds
        self.process = subprocess.Popen(
            [sys.executable, "-I", str(WORKER), json.dumps(order)],
            stdin=source,
            stdout=subprocess.PIPE,
            bufsize=0,
            stderr=subprocess.DEVNULL,
            cwd=work,
            env=ENVIRONMENT,
            start_new_session=True,
        )

    def __enter__(self) -> Self:
        """Return the running child."""
        return self

    def __exit__(self, *_: object) -> None:
        """End whatever of the group still runs."""
        self._end()
        cast(IO[bytes], self.process.stdout).close()

    def result(self) -> Draft | Refused:
        """Wait for the child and give its verdict. Raises TryLaterError, CrashedError."""
        in_time = self._ends_within(self.wall_seconds)
        code = self._end()
        walls, answer = self._said()
        if walls is None:
            raise TryLaterError(f"the decoder did not come as far as the file: exit code {code}")
        if not in_time:
            detail = f"no end after {self.wall_seconds} s of clock"
            raise CrashedError(RefusalReason.TOOK_TOO_LONG, detail)
        if code == 0:
            return self._verdict(answer)
        if -code == signal.SIGXCPU:
            return Refused(RefusalReason.TOOK_TOO_LONG, "processor time used up")
        if code == TRY_LATER or -code in ASKED_TO_STOP:
            raise TryLaterError(f"the decoder was stopped: exit code {code}")
        raise CrashedError(RefusalReason.UNREADABLE, f"the decoder ended with exit code {code}")

    def walls(self) -> Walls:
        """Wait for the child and give the walls it raised."""
        self._ends_within(self.wall_seconds)
        code = self._end()
        said = self._said()[0]
        return Walls({"decoder": f"it does not start: exit code {code}"} if said is None else said)

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

    def _said(self) -> tuple[dict[str, str] | None, str]:
        """Return the walls that the child told of before it saw the file, and what it said last.

        The first line is our own code's. The other may be a stranger's. What is more than a pipe
        holds never arrives.
        """
        handle = cast(IO[bytes], self.process.stdout).fileno()
        os.set_blocking(handle, False)
        said = b""
        with contextlib.suppress(BlockingIOError):
            while len(said) < SAID_BYTES and (part := os.read(handle, SAID_BYTES)):
                said += part
        walls, _, answer = said.decode(errors="replace").partition("\n")
        return (json.loads(walls) if walls else None), answer

    def _verdict(self, said: str) -> Draft | Refused:
        try:
            answer = json.loads(said)
            if "refused" in answer:
                return Refused(RefusalReason(answer["refused"]), str(answer["detail"])[:200])
            return self._draft(answer)
        except (*NONSENSE, RecursionError) as error:
            detail = f"no sound answer: {type(error).__name__}"
            raise CrashedError(RefusalReason.UNREADABLE, detail) from error

    def _draft(self, answer: dict[str, Any]) -> Draft:
        """Read *answer*. Raises one of NONSENSE for what our own decoders would not say."""
        kind, files = Kind(answer["kind"]), tuple(map(self._file, answer["files"]))
        if kind is not self.kind and (self.kind, kind) != (Kind.CLIP, Kind.VOICE):
            raise ValueError("another kind than the file's")
        pages = len(files) - 1
        if {file.name for file in files} != set(names_of(kind, pages)):
            raise ValueError("other files than are made of this kind")
        seconds = float(answer["seconds"])
        if not (math.isfinite(seconds) and 0 <= seconds <= 2 * self.limits.seconds):
            raise ValueError("a length that was not let in")
        return Draft(
            kind, files, self._side(answer["width"]), self._side(answer["height"]), seconds
        )

    def _file(self, answer: dict[str, Any]) -> DraftFile:
        name = str(answer["name"])
        role = ROLES.get(name, Role.PAGE)
        if Role(answer["role"]) is not role:
            raise ValueError("another role than the name's")
        return DraftFile(role, name, self._side(answer["width"]), self._side(answer["height"]))

    def _side(self, side: Any) -> int:
        if not isinstance(side, int) or not 0 <= side <= self.limits.side:
            raise ValueError("a side that was not let in")
        return side


def raisable() -> Walls:
    """Say which walls can be raised on this system, by raising them round an idle decoder.

    The fallback where one is missing: a decoder stands behind the others, and on a system that is
    not Linux behind the limits alone. Whether that is enough is for the caller: `are_enough`.
    """
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "work"
        place.mkdir()
        with Child(subprocess.DEVNULL, place, None, 0, LIMITS) as child:
            return child.walls()

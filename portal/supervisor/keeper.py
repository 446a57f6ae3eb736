"""Ends process groups when the launcher is gone, on systems that do not do so themselves.

Each line it reads names the groups there are; the end of its input is the launcher's end.
"""

import os
import signal
import sys
import time
from collections.abc import Iterable
from contextlib import suppress

PATIENCE = 10.0  # seconds for the groups to end by themselves


def last_told(lines: Iterable[str]) -> list[int]:
    """Read *lines* to their end; give the groups that the last whole one names."""
    groups: list[int] = []
    for line in lines:
        if line.endswith("\n"):
            groups = [int(word) for word in line.split()]
    return groups


def are_there(groups: list[int]) -> bool:
    """Whether any process of *groups* is there."""
    for group in groups:
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(group, 0)
            return True
    return False


def end(groups: list[int]) -> None:
    """End *groups* kindly, then for certain."""
    for number in (signal.SIGTERM, signal.SIGKILL):
        for group in groups:
            with suppress(ProcessLookupError, PermissionError):
                os.killpg(group, number)
        deadline = time.monotonic() + PATIENCE
        while are_there(groups) and time.monotonic() < deadline:
            time.sleep(0.1)


if __name__ == "__main__":
    end(last_told(sys.stdin))

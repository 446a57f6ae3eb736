"""A decoder that a file has taken over finds walls on every side."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.evidence.media.made import ROOT

RAISED = """
import os, socket, subprocess, sys
from pathlib import Path
sys.path.insert(0, {root!r})
from evidence.media.limits import LIMITS
from evidence.media.walls import raise_walls
walls = raise_walls(LIMITS.photo, LIMITS, Path.cwd())
try:
    {attempt}
except (OSError, MemoryError) as error:
    print("stopped")
else:
    print("reached")
"""

ATTEMPTS = {
    "a website": "socket.socket(socket.AF_INET, socket.SOCK_STREAM)",
    "a local service": "socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)",
    "another program": "os.execv('/bin/true', ['/bin/true'])",
    "a program beside it": "subprocess.run(['/bin/true'])",
    "another process": "os.kill(os.getppid(), 0)",
    "the accounts of the machine": "open('/etc/passwd').read()",
    "the settings of the project": f"open({str(ROOT / 'portal' / 'settings.py')!r}).read()",
    "other families' files": f"os.listdir({str(ROOT)!r})",
    "a place to write elsewhere": "open('/tmp/escaped', 'w')",
    "the memory of the machine": "bytearray(2 << 30)",
    "the disk of the machine": "open('large', 'wb').write(bytes(300_000_000))",
}


def attempt(code: str, folder: Path) -> str:
    """Run *code* behind the walls in a process of its own, and say whether it was stopped."""
    program = RAISED.format(root=str(ROOT), attempt=code)
    run = subprocess.run(
        [sys.executable, "-I", "-c", program],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=30,
    )
    return run.stdout.strip()


@pytest.mark.parametrize("goal", ATTEMPTS)
def test_a_decoder_cannot_reach(goal, tmp_path):
    assert attempt(ATTEMPTS[goal], tmp_path) == "stopped"


def test_a_decoder_can_still_write_where_it_works(tmp_path):
    assert attempt("open('display.jpg', 'wb').write(b'x')", tmp_path) == "reached"
    assert (tmp_path / "display.jpg").read_bytes() == b"x"


def test_all_walls_stand_on_this_machine(tmp_path):
    names = attempt("print(*walls)", tmp_path).split()

    expected = {"limits", "files", "syscalls"} | ({"namespace"} if os.geteuid() == 0 else set())
    assert expected <= set(names)

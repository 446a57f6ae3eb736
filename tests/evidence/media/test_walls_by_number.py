"""What a decoder might ask the kernel for by number alone: another process, or a way round."""

import platform
import subprocess
import sys
from pathlib import Path

import pytest

from tests.evidence.media.made import ROOT

# By machine: the number of the call. Both need no right of their own where no wall stands.
NUMBERS = {
    "trace": {"x86_64": 101, "aarch64": 117},  # ptrace
    "ring": {"x86_64": 425, "aarch64": 425},  # io_uring_setup
}
ASKING = """
import ctypes, errno, sys
from pathlib import Path
sys.path.insert(0, {root!r})
from evidence.media.limits import LIMITS
from evidence.media.walls import raise_walls
libc = ctypes.CDLL(None, use_errno=True)
room = ctypes.create_string_buffer(256)
if {walls}:
    raise_walls(LIMITS.photo, LIMITS, Path.cwd())
given = libc.syscall({number}, *{arguments})
print(errno.errorcode.get(ctypes.get_errno(), "") if given < 0 else "done")
"""
ARGUMENTS = {"trace": "(0, 0, 0, 0)", "ring": "(4, room)"}  # PTRACE_TRACEME; four places


def asked(what: str, folder: Path, *, walls: bool) -> str:
    """Return what the kernel says to a process that asks for *what*: "done", or the error."""
    number = NUMBERS[what][platform.machine()]
    program = ASKING.format(root=str(ROOT), walls=walls, number=number, arguments=ARGUMENTS[what])
    run = subprocess.run(
        [sys.executable, "-I", "-c", program],
        cwd=folder, capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    return run.stdout.strip()


@pytest.mark.parametrize("what", NUMBERS)
def test_a_decoder_cannot_ask_the_kernel_to(what, tmp_path):
    if asked(what, tmp_path, walls=False) != "done":
        pytest.skip("this machine's kernel does it for nobody")
    # Killed for asking, a process says nothing.
    assert asked(what, tmp_path, walls=True) in ("EPERM", "")

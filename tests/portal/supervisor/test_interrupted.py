"""Ctrl-C at any second of a start: it ends soon and whole, says no gibberish, and starts again."""

import os
import random
import signal
import subprocess
import sys
import time

import psutil
import pytest

from tests.stack import ROOT, Stack, wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
TIMES = int(os.environ.get("INTERRUPTS", "4"))
LONGEST = 12.0  # seconds from the start to Ctrl-C
SOON = 15.0  # seconds from Ctrl-C to the end


# As a library does that takes any error while it is loaded.
SWALLOWED = """
import runpy, signal, sys
from portal.supervisor import interrupts
interrupts.listen()
try:
    signal.raise_signal(signal.SIGINT)
except BaseException:
    pass
sys.argv = ["manage.py", "demo", "--port", {port!r}, "--data", {data!r}]
runpy.run_path("manage.py", run_name="__main__")
"""


def left_of(stack: Stack) -> list[str]:
    """List the processes that *stack* has left running: those that know its data folder."""
    found = []
    for process in psutil.process_iter():
        try:
            knows = process.environ().get("DATA_DIR") == str(stack.data)
            if knows and process.status() != psutil.STATUS_ZOMBIE:
                found.append(" ".join(process.cmdline()))
        except (psutil.NoSuchProcess, psutil.AccessDenied):
            continue
    return found


def interrupt(stack: Stack, after: float, everybody: bool) -> tuple[int, float, str]:
    """Start, and press Ctrl-C *after* seconds; give the exit code, the seconds it took, the words.

    everybody: the whole group hears it, as from a terminal; else the launcher alone.
    """
    stack.data.mkdir(exist_ok=True)
    command = [sys.executable, "manage.py", "demo", "--port", str(stack.port)]
    with (stack.data / "said").open("w") as said:
        process = subprocess.Popen(
            [*command, "--data", str(stack.data)],
            cwd=ROOT, env=stack.environment, stdout=said, stderr=said, start_new_session=True,
        )  # fmt: skip
        time.sleep(after)  # The moment is what is tried here.
        (os.killpg if everybody else os.kill)(process.pid, signal.SIGINT)
        pressed = time.monotonic()
        code = process.wait(60)
    return code, time.monotonic() - pressed, stack.said


@pytest.mark.parametrize("fresh", [True, False], ids=["first start", "later start"])
def test_ctrl_c_at_any_second_ends_it_soon_and_whole_and_the_next_start_works(tmp_path, fresh):
    stack = Stack(tmp_path / "data", "demo")
    if not fresh:
        stack.prepare()
    chance = random.Random()
    for number in range(TIMES):
        # Not before the first line of ours is read: until then it is Python's to answer.
        after = chance.uniform(0.3, LONGEST)
        code, took, said = interrupt(stack, after, everybody=number % 2 == 0)
        told = f"after {after:.2f} s: {code}, {took:.1f} s\n{said}"
        assert code in (0, 130), told
        assert "Traceback" not in said, told
        # Not always the last words: a part that was at work says that it ends, too.
        assert {"Stopping.", "Stopped."} & set(said.splitlines()), told
        assert took <= SOON, told
        assert not left_of(stack), (told, left_of(stack))
    stack.start()
    wait_for(lambda: "is ready" in stack.said, what="the start after")
    assert stack.stop() == 0


def test_ctrl_c_that_a_library_swallowed_ends_the_start_all_the_same(tmp_path):
    stack = Stack(tmp_path / "data", "demo")
    stack.prepare()
    code = SWALLOWED.format(port=str(stack.port), data=str(stack.data))
    ran = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT, env=stack.environment, capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    assert "Stopping." in ran.stdout
    assert "is ready" not in ran.stdout
    assert not left_of(stack)

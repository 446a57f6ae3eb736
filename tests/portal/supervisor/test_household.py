"""Children of the launcher end with it, on systems that do not see to that themselves as well."""

import signal
import subprocess
import sys
import time

import psutil
import pytest

from portal.supervisor.processes import PATIENCE, Household, Service
from tests.stack import ROOT, wait_for

DEAF = "import signal; signal.signal(signal.SIGTERM, signal.SIG_IGN); "
PARENT = "import subprocess, time; subprocess.Popen(['sleep', '300']); time.sleep(300)"
LAUNCHER = f"""
import sys, types
from portal.supervisor import processes
from portal.supervisor.processes import Household, Service
# What only Linux can is not tried from here on.
processes.sys = types.SimpleNamespace(platform="darwin", executable=sys.executable)
household = Household(print)
for code in ({PARENT!r}, {DEAF + PARENT!r}):
    household.add(Service("sleeper", [sys.executable, "-c", code], {{}}))
household.watch()
"""


def python(code: str, name: str = "sleeper") -> Service:
    return Service(name, [sys.executable, "-c", code], {})


def begun_by(process: psutil.Process, number: int) -> list[psutil.Process]:
    """Wait until *process* has so many processes below it; give them."""
    below = process.children
    wait_for(lambda: len(below(recursive=True)) >= number, 30, f"{number} processes")
    return below(recursive=True)


def are_gone(processes: list[psutil.Process]) -> bool:
    return not any(
        each.is_running() and each.status() != psutil.STATUS_ZOMBIE for each in processes
    )


def test_where_the_system_does_not_end_children_with_their_parent_a_keeper_does():
    launcher = subprocess.Popen([sys.executable, "-c", LAUNCHER], cwd=ROOT)
    below = begun_by(psutil.Process(launcher.pid), 5)  # Two with a child each, and the keeper.
    launcher.kill()
    launcher.wait()
    wait_for(lambda: are_gone(below), 60, "the end of all")


def test_a_keeper_leaves_nothing_and_ends_nothing_when_the_launcher_ends_well():
    sleeper = subprocess.Popen(["sleep", "300"], start_new_session=True)
    told = subprocess.run(
        [sys.executable, "-I", str(ROOT / "portal/supervisor/keeper.py")],
        input=f"{sleeper.pid}\n\n{sleeper.pid}".encode(), timeout=20, check=True,
    )  # fmt: skip
    assert told.returncode == 0
    assert sleeper.poll() is None
    sleeper.kill()
    sleeper.wait()


def test_all_that_do_not_listen_are_ended_together_and_soon():
    household = Household(print)
    deaf = DEAF + "import time; print('deaf', flush=True); time.sleep(300)"
    for _each in range(3):
        household.add(python(deaf))
    pids = [service.process.pid for service in household.services]
    wait_for(lambda: all(ignores_term(pid) for pid in pids), what="their deafness")
    began = time.monotonic()
    household.stop()
    assert time.monotonic() - began < PATIENCE + 5
    assert all(service.has_ended for service in household.services)


def ignores_term(pid: int) -> bool:
    """Whether the process *pid* ignores SIGTERM, by what `ps` says of it."""
    ran = subprocess.run(
        ["ps", "-o", "ignored=", "-p", str(pid)], capture_output=True, text=True, check=True
    )
    return bool(int(ran.stdout, 16) >> (signal.SIGTERM - 1) & 1)


def test_what_runs_once_is_ended_with_all_it_began_when_the_portal_is_stopped():
    household = Household(print)
    seen: list[psutil.Process] = []

    class Stopped(Service):
        """A service during whose run Ctrl-C is pressed."""

        def start(self) -> None:
            super().start()
            seen.extend([psutil.Process(self.process.pid)])
            seen.extend(begun_by(seen[0], 1))
            household.stopping = True

    code = household.run_to_end(Stopped("once", [sys.executable, "-c", PARENT], {}))
    assert code == -signal.SIGTERM
    wait_for(lambda: are_gone(seen), 20, "its end")


@pytest.mark.skipif(sys.platform != "linux", reason="other systems have a keeper instead")
def test_linux_needs_no_keeper():
    assert Household(print).keeper is None

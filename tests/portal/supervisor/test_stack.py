"""Starting, stopping and starting again, as people do it."""

import os
import signal
import sqlite3
from contextlib import suppress

import psutil
import pytest

from tests.stack import Stack, wait_for

pytestmark = pytest.mark.stack


def is_alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


def all_services(stack: Stack) -> dict[str, int]:
    """Return the process of each service by its command, once all four are there; else nothing."""
    launcher, found = psutil.Process(stack.process.pid), {}
    for child in launcher.children():
        with suppress(psutil.Error):
            # Until it has its own command, a child has the launcher's; once it is dead, none.
            if (command := child.cmdline()) and command != launcher.cmdline():
                found[" ".join(command)] = child.pid
    return found if len(found) == 4 else {}


@pytest.fixture
def fresh(tmp_path):
    """Give a demo that started from nothing."""
    stack = Stack(tmp_path / "data", "demo").start()
    yield stack
    if stack.process.poll() is None:
        stack.stop()


@pytest.fixture
def demo(tmp_path):
    """Give a demo that found its data there."""
    stack = Stack(tmp_path / "data", "demo").prepare().start()
    yield stack
    if stack.process.poll() is None:
        stack.stop()


def count_children_in_class(stack: Stack) -> int:
    with sqlite3.connect(stack.data / "kitchen-counter.sqlite3") as database:
        return database.execute("SELECT count(*) FROM people_child").fetchone()[0]


def test_the_demo_says_where_to_go_stops_whole_and_finds_its_data_again(fresh):
    wait_for(lambda: "/demo/as/teacher/" in fresh.said, what="the addresses")
    first = count_children_in_class(fresh)
    # broker, web server, worker, beat
    started = wait_for(lambda: all_services(fresh), what="all four services").values()
    assert fresh.stop() == 0
    assert not [pid for pid in started if is_alive(pid)]
    fresh.start()
    assert count_children_in_class(fresh) == first > 30


def test_a_second_start_on_the_same_data_is_refused_with_a_reason(demo):
    second = Stack(demo.data, "demo")
    with pytest.raises(AssertionError, match="Another portal runs on"):
        second.start()


def test_a_service_that_is_killed_is_started_again(demo):
    before = wait_for(lambda: all_services(demo), what="all four services")
    command, victim = list(before.items())[-1]
    os.kill(victim, signal.SIGKILL)
    wait_for(lambda: all_services(demo).get(command, victim) != victim, what="the revival")
    wait_for(demo.is_well, what="pages")


def test_nothing_is_left_behind_when_the_launcher_itself_is_killed(demo):
    started = wait_for(lambda: all_services(demo), what="all four services").values()
    demo.process.kill()
    demo.process.wait()
    wait_for(lambda: not [pid for pid in started if is_alive(pid)], what="the children's end")

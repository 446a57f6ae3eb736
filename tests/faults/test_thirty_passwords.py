"""Thirty members of staff sign in at once: the machine keeps its memory, and nobody waits long."""

import http.cookiejar
import re
import time
import urllib.parse
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from threading import Event, Thread

import pytest

from tests.faults.staff_room import HOW_MANY
from tests.stack import Stack
from tests.village import PASSWORD

pytestmark = [pytest.mark.stack, pytest.mark.proof]
MOST_MEMORY = 400  # MB that all web processes together may grow by
LONGEST_ANSWER = 10.0  # seconds


@pytest.fixture(scope="module")
def portal(tmp_path_factory):
    """Give a portal of its own with a full staff room."""
    stack = Stack(tmp_path_factory.mktemp("passwords") / "data").prepare()
    stack.python("tests.faults.staff_room")
    yield stack.start()
    stack.stop()


def web_processes(portal: Stack) -> list[int]:
    """Return the processes that serve pages."""
    mine = []
    for path in Path("/proc").glob("[0-9]*/cmdline"):
        with suppress(OSError):
            words = path.read_bytes().decode(errors="replace")
            if "gunicorn" in words and str(portal.data) in words:
                mine.append(int(path.parent.name))
    return mine


def memory(pids: list[int]) -> float:
    """Return the memory of *pids* in MB; what several share counts once (PSS)."""
    total = 0
    for pid in pids:
        with suppress(OSError):
            rolled = Path(f"/proc/{pid}/smaps_rollup").read_text()
            total += int(re.search(r"^Pss:\s+(\d+)", rolled, re.MULTILINE)[1])
    return total / 1000


class Browser:
    """Somebody before the door for staff, with the form open."""

    def __init__(self, portal: Stack, number: int) -> None:
        self.door, self.number = f"{portal.url}/sign-in/staff/", number
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(jar)
        page = self.opener.open(self.door, timeout=60).read().decode()
        self.token = re.search(r'csrfmiddlewaretoken" value="([^"]+)', page)[1]

    def sign_in(self) -> tuple[float, bool]:
        """Return how long the answer took in seconds, and whether it let in."""
        told = {
            "email": f"teacher-{self.number}@example.org",
            "password": PASSWORD,
            "csrfmiddlewaretoken": self.token,
        }
        began = time.monotonic()
        answer = self.opener.open(self.door, urllib.parse.urlencode(told).encode(), timeout=60)
        return time.monotonic() - began, not answer.url.startswith(self.door)


def test_thirty_passwords_at_once_take_little_memory_and_nobody_waits_ten_seconds(
    portal, record_property
):
    browsers = [Browser(portal, number) for number in range(HOW_MANY)]
    pids = web_processes(portal)
    assert len(pids) >= 2
    before, peak, over = memory(pids), [0.0], Event()

    def watch():
        while not over.wait(0.02):
            peak[0] = max(peak[0], memory(pids))

    watcher = Thread(target=watch)
    watcher.start()
    try:
        with ThreadPoolExecutor(HOW_MANY) as people:
            answers = list(people.map(Browser.sign_in, browsers))
    finally:
        over.set()
        watcher.join()
    slowest = max(seconds for seconds, _let_in in answers)
    record_property("grew by MB", round(peak[0] - before))
    record_property("slowest answer in s", round(slowest, 1))
    assert all(let_in for _seconds, let_in in answers)
    assert peak[0] - before <= MOST_MEMORY
    assert slowest <= LONGEST_ANSWER

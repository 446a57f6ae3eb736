"""Five hundred lines that say half of something and wait: pages open, and work arrives."""

import hashlib
import resource
import sys
import threading
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

import psutil
import pytest

from tests.faults.idle import CHUNK, KINDS, LONGEST, answers, begun, idle, slowest, still_open
from tests.faults.speaking import begun as upload_begun
from tests.faults.speaking import film, offset_of, opened, patched
from tests.stack import wait_for

pytestmark = pytest.mark.stack
LINES = 500
PLACES = 2 * 1000  # for lines, in both web processes
ALL_CLOSED = 40.0
STOPS_WITHIN = 7.0  # seconds; a head may take 15 otherwise
PAGES = ("/healthz", "/sign-in/")
SIZE, PART = 400_000, 20_000


def page_of(scene):
    """Give what opens a page as a stranger."""

    def open_page(path: str) -> int:
        with urllib.request.urlopen(f"{scene.portal.url}{path}", timeout=20) as answer:
            answer.read()
            return answer.status

    return open_page


@contextmanager
def upload_going_on(scene) -> Iterator[bytes]:
    """Have a clip on its way from a phone for as long as the block takes, and to its end then."""
    content = film(SIZE)
    address, go_on = upload_begun(scene, SIZE), threading.Event()

    def send() -> None:
        with opened(scene, address, 0, SIZE) as line:
            for start in range(0, SIZE, PART):
                line.sendall(content[start : start + PART])
                go_on.wait(0.5)
            line.settimeout(60)
            assert b" 204 " in line.recv(1 << 14)[:40]

    phone = threading.Thread(target=send)
    phone.start()
    try:
        yield content
    finally:
        go_on.set()
        phone.join(90)


def has_arrived(scene, content: bytes) -> bool:
    digest = hashlib.sha256(content).hexdigest()
    asked = f"SELECT size FROM evidence_piece WHERE sha256 = '{digest}'"
    return scene.ask(asked) == [(len(content),)]


@pytest.mark.parametrize("kind", KINDS)
def test_pages_open_and_an_upload_arrives_while_five_hundred_lines_stand_that(kind, scene):
    with upload_going_on(scene) as content, idle(scene.portal.url, LINES, KINDS[kind]) as lines:
        longest = slowest(page_of(scene), PAGES)
        sys.stdout.write(f"\n{LINES} lines, {kind}: slowest page {longest * 1000:.0f} ms\n")
        assert longest < LONGEST
        assert len(lines) == LINES

    wait_for(lambda: has_arrived(scene, content), what="the upload")


def test_pages_open_while_one_home_begins_five_hundred_writes_of_an_upload(scene):
    address = upload_begun(scene, int(CHUNK["Content-Length"]))
    content = begun("PATCH", address, {**CHUNK, "Cookie": scene.cookie()})

    with idle(scene.portal.url, LINES, content) as lines:
        longest = slowest(page_of(scene), PAGES)
        sys.stdout.write(f"\n{LINES} halves of one upload: slowest page {longest * 1000:.0f} ms\n")
        assert longest < LONGEST
        told = {int(each.split()[1]) for each in answers(lines[-20:], ALL_CLOSED)}

    assert told <= {409, 423, 503}
    assert patched(scene, address, offset_of(scene, address), b"more").status == 204


def test_with_more_lines_than_there_are_places_the_next_are_let_in_all_the_same(scene):
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (max(soft, PLACES + LINES), hard))
    try:
        with idle(scene.portal.url, PLACES + 100, KINDS["half a head"]):
            longest = slowest(page_of(scene), PAGES)
    finally:
        resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))

    sys.stdout.write(f"\n{PLACES + 100} lines: slowest page {longest * 1000:.0f} ms\n")
    assert longest < LONGEST


def test_lines_that_never_say_the_rest_are_closed(scene):
    with ExitStack() as held:
        each = [held.enter_context(idle(scene.portal.url, 20, half)) for half in KINDS.values()]
        lines = [line for some in each for line in some]

        assert still_open(lines, ALL_CLOSED) == 0


def test_lines_that_wait_do_not_hold_up_a_worker_that_is_to_stop(scene):
    halves = [KINDS["half a head"], KINDS["half a sign-in"], KINDS["half an upload of nobody's"]]
    with ExitStack() as held:
        for half in halves:
            held.enter_context(idle(scene.portal.url, 100, half))
        workers = scene.web_workers()
        for worker in workers:
            worker.terminate()
        _gone, alive = psutil.wait_procs(workers, STOPS_WITHIN)

    assert not alive
    wait_for(scene.portal.is_well, what="the next workers")

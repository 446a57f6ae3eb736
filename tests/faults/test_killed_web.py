"""The web server is killed in the middle of uploads: what was acknowledged is there, once."""

import hashlib
import random
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, suppress

import psutil
import pytest

from tests.evidence.uploads.tus.tus import BYTES, START
from tests.faults.conftest import Scene
from tests.faults.speaking import ask, begun, film, offset_of, opened, patched, told, written
from tests.stack import Stack, wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
KILLS = 20
UPLOADS = 1_000
SMALL = 3_000  # bytes, and four that tell a photo
A_FORM = 10  # pieces
BACK_IN = 10.0  # seconds
A_BREATH = 4.0  # seconds between two kills: a process takes one or two to come up again


def kill_one(scene) -> None:
    """Kill a process that serves pages, with no chance to tidy up."""
    workers = wait_for(scene.web_workers, what="a web process")
    with suppress(psutil.NoSuchProcess):
        random.choice(workers).kill()


def stands_at(scene, address: str) -> int:
    """Ask how far the upload has got, until somebody answers."""

    def asked() -> tuple[int] | None:
        with suppress(OSError, AssertionError):
            return (offset_of(scene, address),)
        return None

    return wait_for(asked, what="an answer")[0]


def test_a_web_server_killed_at_any_byte_of_a_clip_loses_nothing_it_promised(scene):
    content = film(4_000_000)
    address = begun(scene, len(content))
    offset = sent = 0
    for _ in range(KILLS):
        upto = random.randint(offset, len(content) - 1)
        sent = max(sent, upto)  # What an earlier line left in a buffer may still be read.
        with (
            suppress(OSError),
            closing(opened(scene, address, offset, len(content) - offset)) as up,
        ):
            up.sendall(content[offset:upto])
            kill_one(scene)
        now = stands_at(scene, address)
        assert offset <= now <= sent
        offset = now

    def went_through() -> bool:
        # As a client does: what an earlier line still brought is asked for again.
        stands = stands_at(scene, address)
        return patched(scene, address, stands, content[stands:]).status == 204

    wait_for(went_through, what="the whole clip")
    digest = hashlib.sha256(content).hexdigest()
    query = f"SELECT size, original FROM evidence_piece WHERE sha256 = '{digest}'"
    [(size, original)] = scene.ask(query)
    assert size == len(content)
    path = scene.media / original
    assert not path.exists() or hashlib.sha256(path.read_bytes()).hexdigest() == digest


def test_a_server_killed_whole_twice_within_two_seconds_is_back_within_ten(scene):
    page(scene)
    for _time in range(2):
        kill_all(scene)
        killed_at = time.monotonic()
        time.sleep(1)
    wait_for(scene.web_masters, what="a new server")
    page(scene)
    assert time.monotonic() - killed_at < BACK_IN


def test_a_server_killed_before_its_first_page_comes_up_all_the_same(tmp_path):
    starting = Scene(Stack(tmp_path / "data", "serve").prepare())
    starting.portal.launch()
    try:
        kill_all(starting)
        wait_for(starting.portal.is_well, 90, "a page")
        wait_for(starting.web_masters, 10, "a server that is watched")
    finally:
        starting.portal.stop()


def kill_all(scene) -> None:
    """Kill whatever serves pages, the one that starts the others first."""
    masters = wait_for(scene.web_masters, 60, "a server")
    for each in [*masters, *(worker for master in masters for worker in master.children())]:
        with suppress(psutil.NoSuchProcess):
            each.kill()


def page(scene) -> None:
    """Wait until a page comes."""

    def came() -> bool:
        with suppress(OSError, ConnectionError):
            return ask(scene, "GET", "/healthz").status == 200
        return False

    wait_for(came, seconds=60, what="a page")


def small(number: int) -> bytes:
    """Return what looks like a photo; each number another."""
    return b"\xff\xd8\xff\xe0" + number.to_bytes(4, "big") * (SMALL // 4)


def send_small(scene, number: int, cookie: str, metadata: dict[str, str]) -> str:
    """Send one small file as a client does, until it is acknowledged; give its SHA-256."""
    content = small(number)
    said = {"Upload_Length": str(len(content)), "Upload_Metadata": written(metadata)}
    address = ""
    deadline = time.monotonic() + 120
    while time.monotonic() < deadline:
        with suppress(OSError, ConnectionError):
            if not address:
                answer = ask(scene, "POST", START, cookie=cookie, **said)
                address = answer.headers["Location"] if answer.status == 201 else ""
                continue
            stands = ask(scene, "HEAD", address, cookie=cookie)
            offset = int(stands.headers["Upload-Offset"] or 0) if stands.status == 200 else 0
            if offset == len(content):
                return hashlib.sha256(content).hexdigest()
            at = {"Upload_Offset": str(offset), "Content_Type": BYTES}
            ask(scene, "PATCH", address, content[offset:], cookie=cookie, **at)
    raise AssertionError(f"number {number} was not taken in two minutes")


def test_a_thousand_acknowledged_uploads_under_kills_are_all_there_once_and_none_is_stuck(scene):
    crowd = scene.said["crowd"]
    forms = {}
    for number in range(UPLOADS):
        home = number % len(crowd)
        key = (home, number // len(crowd) // A_FORM)
        forms.setdefault(key, told(scene, child=crowd[home][1]))
    over = threading.Event()

    def killing() -> None:
        while not over.wait(A_BREATH):
            with suppress(AssertionError):
                kill_one(scene)

    def send(number: int) -> str:
        home = number % len(crowd)
        metadata = forms[home, number // len(crowd) // A_FORM]
        return send_small(scene, number, f"session={crowd[home][0]}", metadata)

    killer = threading.Thread(target=killing)
    killer.start()
    began = time.monotonic()
    try:
        with ThreadPoolExecutor(16) as pool:
            acknowledged = list(pool.map(send, range(UPLOADS)))
    finally:
        over.set()
        killer.join()

    there = [row[0] for row in scene.ask("SELECT sha256 FROM evidence_piece WHERE size = 3004")]
    sys.stdout.write(
        f"\n{len(acknowledged)} acknowledged in {time.monotonic() - began:.0f} s, "
        f"{len(set(acknowledged) - set(there))} lost, {len(there) - len(set(there))} twice\n"
    )
    assert len(set(acknowledged)) == UPLOADS
    assert sorted(there) == sorted(acknowledged)
    made = """
        SELECT count(DISTINCT s.id), count(DISTINCT s.form_key)
        FROM evidence_submission s JOIN evidence_piece p ON p.submission_id = s.id
        WHERE p.size = 3004
    """
    assert scene.ask(made) == [(len(forms), len(forms))]
    left = "SELECT 1 FROM evidence_piece WHERE size = 3004 AND state = 'arrived' LIMIT 1"
    wait_for(lambda: not scene.ask(left), seconds=300, what="every piece to come to an end")

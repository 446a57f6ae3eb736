"""Kills, a silent mail server, a hanging bucket and idle lines, all at once, while homes send."""

import http.client
import random
import secrets
import socket
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager, suppress

import psutil
import pytest

from tests.evidence.storage.buckets import bucket_server, new_bucket
from tests.faults.line import Line, line_to
from tests.faults.mail_server import MailServer
from tests.faults.phone import Phone, photo
from tests.faults.portal import Portal, running
from tests.stack import wait_for

__all__ = ["bucket_server"]
pytestmark = [pytest.mark.stack, pytest.mark.proof]
SENT = 200  # photos, from forty homes
KILLS = 20
IDLE = 500  # lines with half a head, which say no more
HALF_A_HEAD = b"GET /healthz HTTP/1.1\r\nHost: localhost\r\nX-Slow: "
IN_HAND = 10  # homes that send at the same time
SLOWEST = 3.0  # seconds for 19 of 20 pages here; one second on a machine with nothing else to do
REFUSED = "SELECT count(*) FROM evidence_piece WHERE state = 'refused'"
READY = "SELECT count(*) FROM evidence_piece WHERE state = 'ready'"


@contextmanager
def idle_lines(port: int) -> Iterator[None]:
    """Hold so many lines open; where the portal hangs up on one, the next takes its place."""
    over = threading.Event()

    def hold(number: int) -> None:
        lines: list[socket.socket] = []
        while not over.is_set():
            with suppress(OSError):
                lines = [line for line in lines if not hung_up(line)]
                while len(lines) < number:
                    lines.append(socket.create_connection(("127.0.0.1", port), timeout=5))
                    lines[-1].sendall(HALF_A_HEAD)
            over.wait(0.5)
        for line in lines:
            line.close()

    holding = threading.Thread(target=hold, args=(IDLE,))
    holding.start()
    try:
        yield
    finally:
        over.set()
        holding.join()


def hung_up(line: socket.socket) -> bool:
    """Whether the portal has closed *line*."""
    line.setblocking(False)
    try:
        return line.recv(4096) == b""
    except BlockingIOError:
        return False
    except OSError:
        return True


@contextmanager
def kills(portal: Portal, done: list[str]) -> Iterator[None]:
    """Kill a web process, the worker and a decoder by turns until there were enough."""
    over = threading.Event()

    def choose(number: int) -> psutil.Process | None:
        if number % 3 == 0:
            return random.choice(portal.part("gunicorn").children() or [None])
        if number % 3 == 1:
            return portal.part("--without-gossip")
        return next(iter(portal.decoders()), None)

    def kill() -> None:
        number = 0
        while len(done) < KILLS and not over.wait(2.5):
            number += 1
            with suppress(psutil.NoSuchProcess, AssertionError):
                if (process := choose(number)) is not None:
                    process.kill()
                    done.append(process.name())

    killing = threading.Thread(target=kill)
    killing.start()
    try:
        yield
        killing.join(KILLS * 10)
    finally:
        over.set()
        killing.join()


@contextmanager
def hanging_now_and_then(bucket: Line) -> Iterator[None]:
    """Have the bucket take calls and say nothing, ten seconds of every twenty."""
    over = threading.Event()

    def hang() -> None:
        while not over.wait(10):
            bucket.silent.set()
            over.wait(10)
            bucket.close(*list(bucket.open))  # what was said meanwhile is lost
            bucket.silent.clear()

    hanging = threading.Thread(target=hang)
    hanging.start()
    try:
        yield
    finally:
        over.set()
        hanging.join()


@contextmanager
def pages_opened(reader: Phone, seconds: list[float], wrong: list[int]) -> Iterator[None]:
    """Open a page over and over: note how long each took, and answers that are no page."""
    over = threading.Event()

    def read() -> None:
        while not over.wait(0.3):
            began = time.monotonic()
            # A process that is killed takes its lines along; a browser asks anew.
            with suppress(OSError, http.client.HTTPException):
                answer = reader.get("/sent/")
                seconds.append(time.monotonic() - began)
                if answer.status != http.client.OK:
                    wrong.append(answer.status)

    reading = threading.Thread(target=read)
    reading.start()
    try:
        yield
    finally:
        over.set()
        reading.join()


def send_until_taken(phone: Phone, number: int) -> None:
    """Send a photo as a tired adult does: the same form again until it is taken."""
    key, content = secrets.token_urlsafe(18), photo(number)

    def taken() -> bool:
        with suppress(OSError, http.client.HTTPException):
            return phone.send(content, key=key).status == http.client.FOUND
        return False

    wait_for(taken, 180, f"photo {number} to be taken")


def test_all_troubles_at_once_lose_double_and_refuse_nothing(ground, place, bucket_server):
    seconds: list[float] = []
    wrong: list[int] = []
    killed: list[str] = []
    with ExitStack() as street:
        bucket = street.enter_context(line_to(int(bucket_server.rpartition(":")[2])))
        storage = new_bucket(bucket_server).replace(bucket_server, bucket.url.split("//")[1])
        mail = street.enter_context(MailServer())
        portal = street.enter_context(
            running(ground, place / "data", EMAIL_URL=mail.url, STORAGE_URL=storage)
        )
        phones = portal.phones()
        with (
            hanging_now_and_then(bucket),
            idle_lines(portal.port),
            pages_opened(phones[-1], seconds, wrong),
            kills(portal, killed),
            ThreadPoolExecutor(IN_HAND) as homes,
        ):
            homes_in_turn = (phones[number % len(phones)] for number in range(SENT))
            list(homes.map(send_until_taken, homes_in_turn, range(SENT)))
        wait_for(lambda: portal.count(READY) == SENT, 600, "every photo")
        accounts = portal.accounts(phones)
        refused = portal.count(REFUSED)

    slow = sorted(seconds)[len(seconds) * 95 // 100]
    print(  # noqa: T201
        f"\n{SENT} sent, {len(killed)} kills, {accounts}, {refused} refused, "
        f"19 of 20 of {len(seconds)} pages within {slow:.2f} s"
    )
    assert len(killed) == KILLS
    assert (accounts["lost"], accounts["stuck"], accounts["twice"], refused) == (0, 0, 0, 0)
    assert wrong == []
    assert slow <= SLOWEST

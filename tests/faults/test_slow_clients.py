"""Many phones on a line of 1 kB a second: the pages of the others still open at once."""

import hashlib
import secrets
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from urllib.parse import urlsplit

import pytest

from tests.evidence.uploads.tus.tus import BYTES, encoded
from tests.faults.phone import Phone, photo, work
from tests.faults.portal import WELL, Portal, running
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
FORMS, UPLOADS, SILENT = 30, 30, 20
KILOBYTE, PAGES = 1000, 40
PHOTOS = 8  # in what a slow phone sends: ten minutes and more of its line


@pytest.fixture(scope="module")
def portal(ground, place) -> Iterator[Portal]:
    with running(ground, place / "data") as portal:
        yield portal


def form_request(phone: Phone, content: bytes, key: str) -> bytes:
    """Return the request that sends *content* with the form."""
    body, kind = work((content,), key)
    return request(phone, "POST", phone.send_path, body, {"Content-Type": kind})


def upload_request(phone: Phone, content: bytes, key: str) -> bytes:
    """Return the request that begins a resumable upload with *content*."""
    told = {"child": str(phone.child), "day": phone.day, "form": key}
    metadata = ",".join(f"{name} {encoded(value)}" for name, value in told.items())
    headers = {
        "Tus-Resumable": "1.0.0",
        "Upload-Length": str(len(content)),
        "Upload-Metadata": metadata,
        "Content-Type": BYTES,
    }
    return request(phone, "POST", "/send/uploads/", content, headers)


def request(phone: Phone, method: str, path: str, body: bytes, headers: dict[str, str]) -> bytes:
    host = {"Host": urlsplit(phone.url).netloc, "Content-Length": str(len(body))}
    lines = [f"{name}: {value}" for name, value in {**host, **phone.cookies, **headers}.items()]
    return "\r\n".join([f"{method} {path} HTTP/1.1", *lines, "", ""]).encode() + body


@dataclass
class SlowLine:
    """One line that sends its request at 1 kB a second, or says nothing at all."""

    url: str
    content: bytes
    answer: bytes = b""
    part: int = 0
    has_ended: bool = False
    over: threading.Event = field(default_factory=threading.Event)

    def run(self) -> None:
        """Send until the end, until it is over, or until the portal hangs up."""
        try:
            self.send()
        finally:
            self.has_ended = True

    def send(self) -> None:
        """Send part after part."""
        address = urlsplit(self.url)
        with (
            suppress(ConnectionError),
            socket.create_connection((address.hostname, address.port)) as line,
        ):
            for start in range(0, len(self.content), KILOBYTE):
                if self.over.is_set():
                    return
                line.sendall(self.content[start : start + KILOBYTE])
                self.part += 1
                self.over.wait(1)
            if self.content:
                line.settimeout(60)
                self.answer = line.recv(1 << 16)
            else:
                self.over.wait()


@contextmanager
def on_the_line(lines: list[SlowLine]) -> Iterator[None]:
    """Have all *lines* at work until the block ends."""
    threads = [threading.Thread(target=line.run, daemon=True) for line in lines]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        for line in lines:
            line.over.set()
        for thread in threads:
            thread.join(90)


def test_pages_open_with_many_slow_phones_on_the_line(portal):
    phones = portal.phones()
    reader = phones[-1]
    reader.get("/sent/")
    large = photo(1, (1600, 1200)) * PHOTOS
    slow = [form_request(phone, large, secrets.token_urlsafe(18)) for phone in phones[:FORMS]]
    slow += [upload_request(phone, large, secrets.token_urlsafe(18)) for phone in phones[:UPLOADS]]

    lines = [SlowLine(portal.url, content) for content in [*slow, *[b""] * SILENT]]

    with on_the_line(lines):
        wait_for(lambda: all(line.part > 2 for line in lines[: len(slow)]), what="slow lines")
        opened = [reader.get("/sent/").status for _page in range(PAGES)]
        sent = reader.send(photo(2))
        # Whatever had to wait for a slow line would have come after its end.
        still = [line for line in lines[: len(slow)] if not line.has_ended]

    assert opened == [200] * PAGES
    assert sent.status == 302, sent.text
    assert len(still) == len(slow)


def test_what_a_slow_phone_sent_whole_is_saved(portal):
    phone = portal.phones()[-2]
    content = photo(3, (160, 120))
    line = SlowLine(portal.url, form_request(phone, content, secrets.token_urlsafe(18)))

    with on_the_line([line]):
        line.over.wait(len(line.content) / KILOBYTE + 2)
    assert b" 302 " in line.answer[:40]

    phone.saved.append(hashlib.sha256(content).hexdigest())
    portal.wait_until_done()
    assert portal.accounts([phone]) == WELL

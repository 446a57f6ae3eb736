"""Lines that begin a request and never end it."""

import selectors
import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from urllib.parse import urlsplit

from tests.evidence.uploads.tus.tus import BYTES

FORM = {"Content-Type": "application/x-www-form-urlencoded", "Content-Length": "900"}
LARGE = {"Content-Type": "multipart/form-data; boundary=edge", "Content-Length": "2000000"}
CHUNK = {
    "Tus-Resumable": "1.0.0",
    "Upload-Offset": "0",
    "Content-Type": BYTES,
    "Content-Length": "900000",
}
NOBODYS = "/send/uploads/" + "n" * 43 + "/"
HALF = b"email=somebody"
# Seconds for a page, on a machine that does much else; a quiet one takes some hundredths, and a
# page that waits for a line that says nothing waits as long as a head may take: 15.
LONGEST = 8.0


def begun(method: str, path: str, headers: dict[str, str], part: bytes = HALF) -> bytes:
    """Return the beginning of a request: its head, and a part of its body."""
    lines = [f"{name}: {value}" for name, value in {"Host": "localhost", **headers}.items()]
    return "\r\n".join([f"{method} {path} HTTP/1.1", *lines, "", ""]).encode() + part


KINDS = {
    "say nothing": b"",
    "half a head": b"GET /sign-in/ HTTP/1.1\r\nHost: localhost\r\nX-And: so o",
    "a whole request and half a head": begun("GET", "/healthz", {}, b"GET / HTTP/1.1\r\nHo"),
    "half a body": begun("POST", "/", FORM),
    "half a sign-in": begun("POST", "/sign-in/", FORM),
    "half a body that is to be asked for": begun(
        "POST", "/sign-in/", {**FORM, "Expect": "100-continue"}, b""
    ),
    "half a large body to sign in with": begun("POST", "/sign-in/", LARGE, b"--edge\r\n"),
    "half a large body where one signs in first": begun("POST", "/classes/", LARGE, b"--edge"),
    "half an upload of nobody's": begun("PATCH", NOBODYS, CHUNK),
    "half a new upload": begun("POST", "/send/uploads/", CHUNK),
}


def as_it_is(line: socket.socket) -> socket.socket:
    """Return a line without TLS."""
    return line


@contextmanager
def idle(
    url: str,
    how_many: int,
    content: bytes,
    wrapped: Callable[[socket.socket], socket.socket] = as_it_is,
) -> Iterator[list[socket.socket]]:
    """Open so many lines, *wrapped* in TLS or not, send *content* on each, and hold them."""
    address = urlsplit(url)
    lines: list[socket.socket] = []
    try:
        for _ in range(how_many):
            line = socket.create_connection((address.hostname, address.port), timeout=30)
            lines.append(wrapped(line))
            lines[-1].sendall(content)
        yield lines
    finally:
        for line in lines:
            line.close()


def slowest(open_page: Callable[[str], int], paths: tuple[str, ...], times: int = 10) -> float:
    """Open each of *paths* so often, and give the longest it took in seconds."""
    longest = 0.0
    for path in paths * times:
        start = time.monotonic()
        assert open_page(path) == 200, path
        longest = max(longest, time.monotonic() - start)
    return longest


def still_open(lines: list[socket.socket], seconds: float) -> int:
    """Read what comes until all *lines* are closed, and give how many are not in the end."""
    deadline = time.monotonic() + seconds
    with selectors.DefaultSelector() as watch:
        for line in lines:
            watch.register(line, selectors.EVENT_READ)
        while watch.get_map() and time.monotonic() < deadline:
            for key, _ in watch.select(1):
                if has_ended(key.fileobj):
                    watch.unregister(key.fileobj)
        return len(watch.get_map())


def has_ended(line: socket.socket) -> bool:
    """Whether the other end has closed *line*."""
    try:
        return not line.recv(1 << 16)
    except OSError:
        return True


def answers(lines: list[socket.socket], seconds: float = 10) -> list[bytes]:
    """Return the first line that is answered on each of *lines*."""
    found = []
    for line in lines:
        line.settimeout(seconds)
        found.append(line.recv(1 << 14).partition(b"\r\n")[0])
    return found

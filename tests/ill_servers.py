"""Servers on this machine that take a line and then are in one trouble or another."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

DRIP = 0.2  # seconds between two letters


@contextmanager
def ill_server(trouble: Callable[[socket.socket], None]) -> Iterator[tuple[int, list[str]]]:
    """Give the port of a server in *trouble*, and the first line of each request it was sent."""
    asked: list[str] = []
    lines: list[socket.socket] = []

    def serve(line: socket.socket) -> None:
        with suppress(OSError):
            asked.append(line.recv(65_536).split(b"\r\n")[0].decode())
            trouble(line)

    def take(here: socket.socket) -> None:
        with suppress(OSError):
            while True:
                line = here.accept()[0]
                lines.append(line)
                threading.Thread(target=serve, args=(line,), daemon=True).start()

    with socket.create_server(("127.0.0.1", 0)) as here:
        threading.Thread(target=take, args=(here,), daemon=True).start()
        yield here.getsockname()[1], asked
        here.shutdown(socket.SHUT_RDWR)
    for line in lines:
        line.close()


def hangs(line: socket.socket) -> None:
    """Say nothing, and hold the line."""
    line.settimeout(60)
    while line.recv(65_536):
        pass


def drips(line: socket.socket) -> None:
    """Begin an answer that comes letter by letter and has no end."""
    line.sendall(b"HTTP/1.1 201 Created\r\n")
    while True:
        line.sendall(b"X")
        time.sleep(DRIP)


def drops(line: socket.socket) -> None:
    """Close the line without an answer."""
    line.close()


def fails(line: socket.socket) -> None:
    """Answer 500, and close."""
    line.sendall(b"HTTP/1.1 500 Out\r\nContent-Length: 0\r\nConnection: close\r\n\r\n")
    line.close()


def breaks_off(line: socket.socket) -> None:
    """Close the line in the middle of an answer's head."""
    line.sendall(b"HTTP/1.1 200 OK\r\nContent-Le")
    line.close()

"""A line between a phone and the portal that can be cut, silenced and counted on: a TCP proxy."""

import array
import fcntl
import random
import re
import socket
import struct
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

BLOCK = 1 << 14
UNSENT = 0x894B  # SIOCOUTQNSD of tcp(7)
REQUEST = re.compile(rb"^[A-Z]+ /\S* HTTP/1\.1\r$", re.MULTILINE)
RESET = struct.pack("ii", 1, 0)  # SO_LINGER of no time: closing sends a reset


class Line:
    """Passes bytes on to *port* of this machine. `url` is where the phone finds the portal."""

    def __init__(self, port: int, cut_after: Callable[[], int | None] = lambda: None) -> None:
        """*cut_after*: asked for each connection, gives after how many bytes up it is cut."""
        self.to = ("127.0.0.1", port)
        self.cut_after = cut_after
        self.is_up = True
        self.silent = threading.Event()
        self.bytes_up = self.bytes_down = self.requests = 0
        self.cuts = self.refused = 0
        self.rate: float | None = None  # bytes a second and connection
        self.lock = threading.Lock()
        self.open: set[socket.socket] = set()
        self.door = socket.create_server(("127.0.0.1", 0), backlog=64)
        threading.Thread(target=self.serve, daemon=True).start()

    @property
    def url(self) -> str:
        return f"http://localhost:{self.door.getsockname()[1]}"

    def serve(self) -> None:
        while True:
            try:
                phone, _address = self.door.accept()
            except OSError:
                return
            if self.is_up:
                threading.Thread(target=self.carry, args=(phone,), daemon=True).start()
            else:
                self.refused += 1
                phone.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, RESET)
                phone.close()

    def carry(self, phone: socket.socket) -> None:
        """Pass one connection on, both ways, until either end closes it or it is cut."""
        try:
            portal = socket.create_connection(self.to)
        except OSError:
            phone.close()
            return
        ends = (phone, portal)
        self.open.update(ends)
        threading.Thread(target=self.pass_down, args=ends, daemon=True).start()
        self.pass_up(*ends)

    def pass_up(self, phone: socket.socket, portal: socket.socket) -> None:
        left = self.cut_after()
        with suppress(OSError):
            while data := phone.recv(BLOCK):
                if self.silent.is_set():
                    continue
                data = data if left is None else data[:left]
                portal.sendall(data)
                with self.lock:
                    self.bytes_up += len(data)
                    self.requests += len(REQUEST.findall(data))
                if self.rate:
                    time.sleep(len(data) / self.rate)
                if left is not None:
                    left -= len(data)
                    if not left:
                        self.cut(phone, portal)
                        return
        self.close(phone, portal)

    def pass_down(self, phone: socket.socket, portal: socket.socket) -> None:
        with suppress(OSError):
            while data := portal.recv(BLOCK):
                if not self.silent.is_set():
                    phone.sendall(data)
                    with self.lock:
                        self.bytes_down += len(data)
        self.close(phone, portal)

    def cut(self, *ends: socket.socket) -> None:
        """Cut a connection, half of the times with a reset, which loses what is under way."""
        with self.lock:
            self.cuts += 1
        if random.random() < 0.5:
            with self.lock:
                self.bytes_up -= under_way(ends[1])
            for end in ends:
                with suppress(OSError):
                    end.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, RESET)
                    end.shutdown(socket.SHUT_RD)  # for whoever waits to read
                self.open.discard(end)
                end.close()
        self.close(*ends)

    def close(self, *ends: socket.socket) -> None:
        for end in ends:
            self.open.discard(end)
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
            with suppress(OSError):
                end.close()

    def begin_cutting(self, cut_after: Callable[[], int | None]) -> None:
        """Cut connections from now on, those that are open first of all."""
        self.cut_after = cut_after
        self.close(*list(self.open))

    def take_down(self) -> None:
        """Let nothing through any more, and break what is open."""
        self.is_up = False
        self.close(*list(self.open))

    def bring_up(self) -> None:
        """Let connections through again."""
        self.is_up = True

    def end(self) -> None:
        self.take_down()
        self.door.close()


def under_way(end: socket.socket) -> int:
    """Return how many bytes written to *end* have not left for the other side yet."""
    left = array.array("i", [0])
    fcntl.ioctl(end, UNSENT, left)
    return left[0]


@contextmanager
def line_to(port: int, cut_after: Callable[[], int | None] = lambda: None) -> Iterator[Line]:
    """Lend a line to the portal at *port*."""
    line = Line(port, cut_after)
    try:
        yield line
    finally:
        line.end()

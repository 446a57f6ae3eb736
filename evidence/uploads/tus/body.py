"""Reads the body of a request as it comes in, and stops where the line, or somebody, says so."""

import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Event, Thread

from django.http import HttpRequest

BLOCK = 1 << 14  # bytes
REST = 1024  # bytes; what a server reads ahead at the least
IDLE = 60.0  # seconds without a byte, after which a line is taken for dead
LOOK_EVERY = 0.4  # seconds


class Body:
    """The bytes of a request. A line that is cut ends them; it is no error, and nothing is lost."""

    def __init__(self, request: HttpRequest) -> None:
        length = request.META.get("CONTENT_LENGTH")
        self.length = int(length) if length and length.isdigit() else None
        # Django reads no body without a stated length; the server knows where that ends.
        open_ended = self.length is None and request.META.get("wsgi.input_terminated")
        self.stream = request.META["wsgi.input"] if open_ended else request
        self.line: socket.socket | None = request.META.get("gunicorn.socket")
        self.moved = time.monotonic()
        self.stopped = False

    def blocks(self) -> Iterator[bytes]:
        """Yield the bytes until they end, the line is cut, or somebody has them stopped."""
        while block := self.read():
            self.moved = time.monotonic()
            yield block
            if self.stopped:
                break

    def read(self) -> bytes:
        """Return the next block; b"" at the end. A reset line still gives what came before it."""
        try:
            return self.stream.read(BLOCK)
        except OSError:
            return self.rest()

    def rest(self) -> bytes:
        """Return what the server had read of a line that is dead now."""
        found = b""
        with suppress(OSError):
            while part := self.stream.read(REST):
                found += part
        return found

    def stop(self) -> None:
        """Have the reading end now, even where it waits for a line that is silent."""
        self.stopped = True
        if self.line:
            with suppress(OSError):  # The line may have ended by itself.
                self.line.shutdown(socket.SHUT_RD)

    @contextmanager
    def watched(self, is_wanted: Callable[[], bool]) -> Iterator[None]:
        """Stop the reading once *is_wanted* says so, or when the line has been silent too long."""
        done = Event()
        watch = Thread(target=self.watch, args=(done, is_wanted), daemon=True)
        watch.start()
        try:
            yield
        finally:
            done.set()
            watch.join()

    def watch(self, done: Event, is_wanted: Callable[[], bool]) -> None:
        """Look every so often until *done*."""
        while not done.wait(LOOK_EVERY):
            if is_wanted() or time.monotonic() - self.moved > IDLE:
                self.stop()
                return

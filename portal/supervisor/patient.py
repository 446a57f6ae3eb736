"""The web server's worker: a line takes a thread only once there is something to do for it.

A head, and a small body, are gathered without a thread. An answer that comes before all of the
body was read, as a refusal does, is followed by a while of listening, without a thread as well:
most browsers hear nothing while they send, and a line closed under them would lose the answer.

It rests on methods of gunicorn's that are no promise: `enqueue_req`, `finish_request`,
`murder_pending`, `_keepalive_after` and the parser's `unreader`, as in the version pinned in
requirements.txt. Read its `gthread.py` again before pinning another; a test says so too. It speaks
plain HTTP/1.1 alone: TLS is for the proxy in front.
"""

import resource
import selectors
import socket
import struct
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from gunicorn import http
from gunicorn.workers.gthread import ThreadWorker

from portal.supervisor.whole import (
    LONGEST_HEAD,
    body_awaited,
    body_length,
    head_of,
    wants_to_be_asked,
)

BLOCK = 1 << 16  # bytes
HEAD_WITHIN = 15.0  # seconds
SLOWEST = 500  # bytes a second that a small body has to come with
LISTENING = 10.0  # seconds that a line is listened to after its last answer
SILENCE = struct.pack("ll", 60, 0)  # seconds and microseconds that a thread waits for a line
LAST_WORDS = 2.0  # seconds for lines that wait while the worker stops
LOOK_EVERY = 0.5
FILES = 2048  # open ones wished for: 1,000 lines, and what the threads need beside them
FILES_A_THREAD = 8
FOR_PAGES = 16  # threads that never wait for a body
QUEUE_WITHIN = 15.0  # seconds
NOTHING_MORE = b"\r\nRetry-After: 2\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"


@dataclass(eq=False)
class Line:
    """A line that waits for its other end, until a time of the monotonic clock."""

    conn: Any
    until: float
    seen: bytearray = field(default_factory=bytearray)
    head: bytes | None = None


class PatientWorker(ThreadWorker):
    """Threads for requests that are there, and a loop that waits for all others."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lines: dict[Line, None] = {}  # in the order in which they came
        self.queue: dict[Line, None] = {}  # of those whose body a thread would wait for
        self.taking_in: set[Any] = set()
        self.next_look = 0.0

    def init_process(self) -> None:
        """Make room for many lines, then do as any worker."""
        files = room_for_files() - FILES_A_THREAD * self.cfg.threads
        self.worker_connections = max(self.cfg.threads, min(self.worker_connections, files))
        super().init_process()

    def accept(self, listener: socket.socket) -> None:
        """Let a line in; where no place is left, the one that has been waited for longest goes."""
        if self.lines and self.nr_conns >= self.worker_connections - 1:
            self.drop(next(iter(self.lines)))
        super().accept(listener)

    def enqueue_req(self, conn: Any) -> None:
        """Wait for a request on *conn*, new or kept, and hand it to a thread once it is there."""
        if conn.parser is None:
            conn.parser = http.get_parser(conn.cfg, conn.sock, conn.client)
            conn.data_ready = True
            with suppress(OSError):  # The line may have ended already.
                conn.sock.setsockopt(socket.SOL_SOCKET, socket.SO_RCVTIMEO, SILENCE)
        line = self.wait_for(conn, HEAD_WITHIN, self.gather)
        line.seen += conn.parser.unreader.take_buffered()
        if line.seen:
            self.hand_over_if_whole(line)

    def wait_for(self, conn: Any, seconds: float, then: Callable[[Line], object]) -> Line:
        """Have *then* called whenever something comes on *conn*, for so many seconds at most."""
        line = Line(conn, time.monotonic() + seconds)
        self.lines[line] = None
        conn.sock.setblocking(False)
        # One of two events of a round may have ended what the other is about.
        self.poller.register(
            conn.sock, selectors.EVENT_READ, lambda _sock: line in self.lines and then(line)
        )
        return line

    def gather(self, line: Line) -> None:
        """Take in what came on *line*; at its end there is nobody to answer."""
        if came := self.read(line):
            line.seen += came
            self.hand_over_if_whole(line)

    def read(self, line: Line) -> bytes:
        """Give what has come on *line*; b"" for nothing yet, and then at its end it is closed."""
        try:
            came: bytes = line.conn.sock.recv(BLOCK)
        except BlockingIOError:
            return b""
        except OSError:
            came = b""
        if not came:
            self.drop(line)
        return came

    def hand_over_if_whole(self, line: Line) -> None:
        """Give *line* to a thread if its head, and a small body, are there."""
        if line.head is None:
            line.head = head_of(line.seen)
            if line.head is None:
                if len(line.seen) > LONGEST_HEAD:
                    self.refuse(self.let_go(line), b"431 Request Header Fields Too Large")
                return
            self.ask_for_body(line, line.head)
        here = len(line.seen) - len(line.head)
        if here >= body_awaited(line.head):
            self.let_go(line)
            line.conn.parser.unreader.unread(bytes(line.seen))
            self.begin(line, is_all_here=here >= body_length(line.head))

    def begin(self, line: Line, *, is_all_here: bool) -> None:
        """Give *line* a thread; one that would wait for a body, only while few of them do."""
        if is_all_here:
            super().enqueue_req(line.conn)
        elif len(self.taking_in) < self.cfg.threads - FOR_PAGES:
            self.taking_in.add(line.conn)
            super().enqueue_req(line.conn)
        else:
            line.until = time.monotonic() + QUEUE_WITHIN
            self.queue[line] = None

    def ask_for_body(self, line: Line, head: bytes) -> None:
        """Give a small body its own time, and ask for it where that is waited for."""
        awaited = body_awaited(head)
        line.until += awaited / SLOWEST
        if len(line.seen) < len(head) + awaited and wants_to_be_asked(head):
            with suppress(OSError):
                line.conn.sock.send(b"HTTP/1.1 100 Continue\r\n\r\n")

    def refuse(self, conn: Any, status: bytes) -> None:
        """Answer *conn* without a thread."""
        with suppress(OSError):
            conn.sock.send(b"HTTP/1.1 " + status + NOTHING_MORE)
        self.listen_on(conn)

    def finish_request(self, conn: Any, fs: Any) -> None:
        """Keep the line for its next request, or say that this was all and listen on."""
        self.taking_in.discard(conn)
        if self.queue:
            line = next(iter(self.queue))
            del self.queue[line]
            self.begin(line, is_all_here=False)
        if fs.cancelled() or fs.exception() or not fs.result():
            self.listen_on(conn)
        else:
            super().finish_request(conn, fs)

    def _keepalive_after(self, conn: Any, keepalive: bool) -> bool:
        """Keep only a line whose body is here: no thread waits for what nobody reads."""
        left = getattr(conn.parser.mesg.body.reader, "length", None)
        here = left is not None and left <= len(conn.parser.unreader.buf.getvalue())
        return here and super()._keepalive_after(conn, keepalive)

    def listen_on(self, conn: Any) -> None:
        """Close *conn* for what we say, and for what we hear when the other end is done."""
        try:
            conn.sock.shutdown(socket.SHUT_WR)
            self.wait_for(conn, LISTENING, self.read)
        except OSError:
            self.nr_conns -= 1
            conn.close()

    def murder_pending(self) -> None:
        """Close the lines that have run out of time, in every round of the loop."""
        super().murder_pending()
        now = time.monotonic()
        if now < self.next_look:
            return
        self.next_look = now + LOOK_EVERY
        for line in [*self.lines, *self.queue]:
            if not self.alive:
                line.until = min(line.until, now + LAST_WORDS)
            if line.until > now:
                continue
            if line in self.queue:
                del self.queue[line]
                self.refuse(line.conn, b"503 Service Unavailable")
            else:
                self.drop(line)

    def drop(self, line: Line) -> None:
        """Close *line*."""
        self.let_go(line).close()
        self.nr_conns -= 1

    def let_go(self, line: Line) -> Any:
        """Stop waiting for *line*, and give its connection."""
        del self.lines[line]
        self.poller.unregister(line.conn.sock)
        return line.conn


def room_for_files() -> int:
    """Have as many files open as this process may, up to FILES, and give how many that is."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wished = FILES if hard == resource.RLIM_INFINITY else min(FILES, hard)
    if soft != resource.RLIM_INFINITY and soft < wished:
        with suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_NOFILE, (wished, hard))
            return wished
    return FILES if soft == resource.RLIM_INFINITY else soft

"""A package index on this machine, with tiny libraries, that can break as real lines do."""

import contextlib
import hashlib
import io
import threading
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

MANAGEMENT = """
import sys
def execute_from_command_line(arguments):
    print("ran:", *arguments[1:], "by", sys.prefix)
"""
# A stand-in for Django that says that it was reached, and one more to be fetched after it.
SOURCES = {
    "django": {"django/__init__.py": "", "django/core/__init__.py": ""}
    | {"django/core/management/__init__.py": MANAGEMENT},
    "teaspoon": {"teaspoon.py": "SIZE = 5\n" + "# stirred, not shaken\n" * 20_000},
}


@cache  # an archive holds the time at which it was made, and the hash with it
def wheel(name: str, more: str = "") -> bytes:
    """Return a wheel of version 1.0 of the library *name*, with *more* in a file of its own."""
    info = f"{name}-1.0.dist-info"
    files = SOURCES[name] | {
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        f"{info}/RECORD": "",
        **({"more.py": more} if more else {}),
    }
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        for path, text in files.items():
            archive.writestr(path, text)
    return held.getvalue()


def locked(*names: str) -> str:
    """Return a lock of the libraries *names*; of one that is not served, with a hash of nothing."""
    hashes = {
        name: hashlib.sha256(wheel(name) if name in SOURCES else b"").hexdigest() for name in names
    }
    return "".join(f"{name}==1.0 --hash=sha256:{digest}\n" for name, digest in hashes.items())


class Index(ThreadingHTTPServer):
    """Serves the wheels; *cuts* of them are broken off, and all wait while *held*."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Handler)
        self.wheels = {f"{name}-1.0-py3-none-any.whl": wheel(name) for name in SOURCES}
        self.cuts = 0
        self.open = threading.Event()
        self.open.set()
        self.reached = threading.Event()
        self.asked: list[str] = []

    @property
    def url(self) -> str:
        """Return the address that pip is told."""
        return f"http://127.0.0.1:{self.server_address[1]}/simple"


class Handler(BaseHTTPRequestHandler):
    """Answers as an index of packages does: a page of links, and files."""

    server: Index

    def do_GET(self) -> None:
        name = self.path.strip("/").rpartition("/")[2]
        self.server.asked.append(name)
        if name in self.server.wheels:
            self.send_wheel(self.server.wheels[name])
        else:
            self.send(self.page(name).encode(), "text/html")

    def page(self, name: str) -> str:
        """Return the page of links to the files of the library *name*."""
        links = [
            f'<a href="/files/{file}#sha256={hashlib.sha256(body).hexdigest()}">{file}</a>'
            for file, body in self.server.wheels.items()
            if file.startswith(f"{name}-")
        ]
        return f"<!DOCTYPE html><html><body>{''.join(links)}</body></html>"

    def send_wheel(self, body: bytes) -> None:
        """Send a wheel, or the half of it."""
        self.server.reached.set()
        self.server.open.wait(60)
        half = self.server.cuts > 0
        self.server.cuts -= half
        self.send(body, "application/octet-stream", len(body) // 2 if half else None)

    def send(self, body: bytes, kind: str, sent: int | None = None) -> None:
        """Answer with *body*, of which *sent* bytes only are sent."""
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        with contextlib.suppress(ConnectionError):  # who asked may have been killed meanwhile
            self.wfile.write(body[:sent])

    def log_message(self, *_words: object) -> None:
        """Print nothing."""


@contextmanager
def served() -> Iterator[Index]:
    """Serve an index until the end of the block."""
    index = Index()
    thread = threading.Thread(target=index.serve_forever, daemon=True)
    thread.start()
    try:
        yield index
    finally:
        index.open.set()
        index.shutdown()
        index.server_close()
        thread.join()

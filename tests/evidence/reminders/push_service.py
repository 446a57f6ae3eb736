"""A push service on this machine: it takes what is sent, keeps it, and answers as told."""

import threading
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer


@dataclass
class Taken:
    """One message as it arrived."""

    path: str
    headers: dict[str, str]
    body: bytes


@dataclass
class PushService:
    """What arrived, and what each address answers: 201 unless `answers` says otherwise."""

    taken: list[Taken] = field(default_factory=list)
    answers: dict[str, int] = field(default_factory=dict)
    origin: str = ""

    def place(self, name: str, status: int = 201) -> str:
        """Return the address of a browser called *name*."""
        self.answers[f"/{name}"] = status
        return f"{self.origin}/{name}"


def start() -> tuple[PushService, ThreadingHTTPServer]:
    """Start one; the caller shuts it down."""
    service = PushService()

    class Door(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            length = int(self.headers.get("Content-Length") or 0)
            headers = {name.lower(): value for name, value in self.headers.items()}
            service.taken.append(Taken(self.path, headers, self.rfile.read(length)))
            status = service.answers.get(self.path, 201)
            self.send_response(status)
            if status == 307:
                self.send_header("Location", f"{service.origin}/elsewhere")
            self.send_header("Content-Length", "0")
            self.end_headers()

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Door)
    service.origin = f"http://127.0.0.1:{server.server_port}"
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return service, server

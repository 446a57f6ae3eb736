"""A mail server of the test's own, which can fall silent as real ones do."""

import socketserver
import threading
from contextlib import AbstractContextManager
from typing import Any, Self

ANSWERS = {"DATA": b"354 go on\r\n", "QUIT": b"221 bye\r\n"}


class MailServer(AbstractContextManager["MailServer"]):
    """Takes mails on a port of this machine. While `mute`, it takes the call and says nothing."""

    def __init__(self) -> None:
        self.mute = True
        self.taken: list[str] = []
        self.calls = 0
        server = self

        class Talk(socketserver.StreamRequestHandler):
            def handle(self) -> None:
                server.calls += 1
                if server.mute:
                    self.rfile.read()  # until the other side has had enough
                    return
                self.wfile.write(b"220 ready\r\n")
                while line := self.rfile.readline():
                    word = line[:4].decode().strip().upper()
                    self.wfile.write(ANSWERS.get(word, b"250 ok\r\n"))
                    if word == "DATA":
                        server.taken.append(self.mail())
                        self.wfile.write(b"250 taken\r\n")

            def mail(self) -> str:
                lines = iter(self.rfile.readline, b".\r\n")
                return b"".join(lines).decode()

        self.server = socketserver.ThreadingTCPServer(("127.0.0.1", 0), Talk)
        self.server.daemon_threads = True

    @property
    def url(self) -> str:
        """Return the EMAIL_URL."""
        return f"smtp://127.0.0.1:{self.server.server_address[1]}"

    def __enter__(self) -> Self:
        """Begin to listen."""
        threading.Thread(target=self.server.serve_forever, daemon=True).start()
        return self

    def __exit__(self, *_: Any) -> None:
        """Hang up."""
        self.server.shutdown()
        self.server.server_close()

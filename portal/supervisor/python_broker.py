"""A job broker in Python, for the demo and tests where there is no Redis: python_broker.py SOCKET.

It listens on a socket that its own user alone may open, since it asks for no password.
"""

import os
import socket
import sys
from pathlib import Path

from fakeredis import TcpFakeServer


class Server(TcpFakeServer):
    """The server of the library, on a Unix socket."""

    address_family = socket.AF_UNIX

    def get_request(self) -> tuple[socket.socket, tuple[str, int]]:
        """Accept a line; the server tells lines apart by an address, and these have none."""
        line, _nameless = super().get_request()
        return line, ("line", next(self.client_ids))


if __name__ == "__main__":
    Path(sys.argv[1]).unlink(missing_ok=True)  # Left by one that was killed.
    os.umask(0o177)
    Server(sys.argv[1]).serve_forever()

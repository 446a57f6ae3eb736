"""Mail by SMTP with a limit on all that is said for one mail, and not on each word of it alone.

A server that drips a letter a second keeps to any limit on one reading, and would hold a thread
for hours. See EMAIL_TIMEOUT for the limit on one reading.
"""

import contextlib
import smtplib
import socket
from threading import Timer
from typing import Any

from django.core.mail.backends import smtp

LONGEST = 30.0  # seconds from picking up the line, or from the mail before, to the server's yes


class _Limited:
    """Cuts its line when one mail takes longer than LONGEST."""

    _cut: Timer | None = None

    def _get_socket(self, *arguments: Any) -> socket.socket:
        line: socket.socket = super()._get_socket(*arguments)  # type: ignore[misc]
        self._begin(line)
        return line

    def sendmail(self, *arguments: Any, **more: Any) -> Any:
        """Send one mail, within the limit."""
        self._begin(self.sock)  # type: ignore[attr-defined]
        return super().sendmail(*arguments, **more)  # type: ignore[misc]

    def close(self) -> None:
        """Close the line."""
        if self._cut:
            self._cut.cancel()
        super().close()  # type: ignore[misc]

    def _begin(self, line: socket.socket) -> None:
        if self._cut:
            self._cut.cancel()
        self._cut = Timer(LONGEST, cut, [line])
        self._cut.daemon = True
        self._cut.start()


def cut(line: socket.socket) -> None:
    """End whatever is being said on *line*, so that whoever reads from it is told."""
    with contextlib.suppress(OSError):
        line.shutdown(socket.SHUT_RDWR)


class _Plain(_Limited, smtplib.SMTP):
    """SMTP with the limit."""


class _Encrypted(_Limited, smtplib.SMTP_SSL):
    """SMTP that is encrypted from the first word on, with the limit."""


class EmailBackend(smtp.EmailBackend):
    """Django's, on a line that is cut when a mail takes too long."""

    @property
    def connection_class(self) -> type[smtplib.SMTP]:
        """Return what speaks to the server."""
        return _Encrypted if self.use_ssl else _Plain

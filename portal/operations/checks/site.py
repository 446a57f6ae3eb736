"""Whether families reach the portal by https, with a certificate that lasts."""

import socket
import ssl
import time
from collections.abc import Iterator
from urllib.parse import urlsplit

from django.conf import settings

from portal.operations.checks.lines import Line, bad, look, ok

DAY = 86_400.0
SOON = 14 * DAY
SECONDS = 4.0


def check_certificate(context: ssl.SSLContext | None = None) -> Iterator[Line]:
    """Yield whether the server of SITE_URL shows a certificate that browsers trust."""
    if not settings.TLS:
        yield look("certificate", "SITE_URL is not https: there is none to check.")
        return
    address = urlsplit(settings.SITE_URL)
    where = (address.hostname or "", address.port or 443)
    try:
        left = seconds_left(where, context or ssl.create_default_context())
    except ssl.SSLCertVerificationError as error:
        yield bad("certificate", f"Browsers will not trust it: {error.verify_message}. Renew it.")
    except OSError:
        yield look("certificate", f"Could not be checked: {where[0]} cannot be reached from here.")
    else:
        words = f"Trusted, for another {int(left // DAY)} days."
        yield bad("certificate", f"{words} Renew it.") if left < SOON else ok("certificate", words)


def seconds_left(where: tuple[str, int], context: ssl.SSLContext) -> float:
    """Give for how long the certificate shown at *where* is good. Raises OSError, ssl.SSLError."""
    with (
        socket.create_connection(where, timeout=SECONDS) as plain,
        context.wrap_socket(plain, server_hostname=where[0]) as secure,
    ):
        shown = secure.getpeercert()
    return ssl.cert_time_to_seconds(str(shown["notAfter"])) - time.time()

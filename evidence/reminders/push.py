"""Waking a browser through its push service: an empty message, which says nothing of anybody."""

import ipaddress
import logging
import socket
from urllib.parse import urlsplit

from django.conf import settings

from evidence.reminders.choices import PushPlace
from evidence.reminders.keys import private_key

log = logging.getLogger("evidence")

LONGEST = 600  # letters of an endpoint
STANDS_FOR = 3 * 60 * 60  # seconds; a phone that was off for longer is not woken for it
GONE = (404, 410)  # Source: RFC 8030, section 7.3; 410 is common practice of push services.
TIMEOUT = 10


def may_be_push_service(endpoint: str) -> bool:
    """Whether *endpoint* has the form of a push service's: https, a name, the usual port."""
    try:
        parts = urlsplit(endpoint)
        port = parts.port
    except ValueError:
        return False
    host = parts.hostname or ""
    if len(endpoint) > LONGEST or not host or parts.username or parts.password:
        return False
    if settings.PUSH_ANYWHERE:
        return parts.scheme in ("http", "https")
    return parts.scheme == "https" and port in (None, 443) and "." in host and not is_number(host)


def is_number(host: str) -> bool:
    """Whether *host* is an address in numbers."""
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return host.replace(".", "").isdigit()
    return True


def leads_outside(endpoint: str) -> bool:
    """Whether the name in *endpoint* leads to the open net, and not to a machine behind us."""
    if settings.PUSH_ANYWHERE:
        return True
    host = urlsplit(endpoint).hostname or ""
    try:
        found = socket.getaddrinfo(host, 443, proto=socket.IPPROTO_TCP)
    except OSError:
        return False
    return all(ipaddress.ip_address(entry[4][0]).is_global for entry in found)


def wake(place: PushPlace) -> bool:
    """Send the empty message to *place*, and tell whether it was taken; a gone one is forgotten."""
    if not may_be_push_service(place.endpoint) or not leads_outside(place.endpoint):
        log.warning("push place %s does not lead to a push service", place.pk)
        return False
    # They take longer to load than the rest of the portal's pages together: only who sends does.
    import requests
    from pywebpush import WebPushException, webpush

    with requests.Session() as session:
        session.max_redirects = 0  # An answer that leads elsewhere is followed by nobody.
        try:
            webpush(
                {"endpoint": place.endpoint},
                vapid_private_key=private_key(),
                vapid_claims={"sub": who_sends()},
                ttl=STANDS_FOR,
                headers={"Urgency": "normal", "Topic": "reminder"},
                timeout=TIMEOUT,
                requests_session=session,
            )
        except WebPushException as error:
            status = getattr(error.response, "status_code", None)
            if status in GONE:
                place.delete()
            else:
                log.warning("push place %s was not woken: %s", place.pk, status)
            return False
        except requests.RequestException as error:
            # Its words hold the address of a phone, and may not stand in a log.
            log.warning("push place %s was not woken: %s", place.pk, type(error).__name__)
            return False
    return True


def who_sends() -> str:
    """Say whom a push service writes to when something is wrong. Source: RFC 8292, 2.1."""
    if settings.SITE_URL.startswith("https://"):
        return settings.SITE_URL
    address = settings.MAIL_FROM.rsplit("<", 1)[-1].rstrip(">").strip()
    return f"mailto:{address}"

"""Waking a browser through its push service: an empty message, which says nothing of anybody."""

import datetime as dt
import ipaddress
import logging
import socket
from urllib.parse import urlsplit

from django.conf import settings
from py_vapid import Vapid02

from evidence.reminders.choices import PushPlace
from evidence.reminders.keys import private_key
from portal.jobs.limits import within

log = logging.getLogger("evidence")

LONGEST = 600  # letters of an endpoint
STANDS_FOR = 3 * 60 * 60  # seconds; a phone that was off for longer is not woken for it
GONE = (404, 410)  # Source: RFC 8030, section 7.3; 410 is common practice of push services.
TAKEN = range(200, 300)
TIMEOUT = 10  # seconds for each part of an answer
IN_ALL = 20.0  # seconds, with the look-up of the name


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


def wake(waiting: PushPlace, day: dt.date, silent: set[str]) -> bool:
    """Send the empty message of *day* to *waiting*, once, and tell whether it was taken.

    A place that is gone is forgotten; where there is no answer, it is tried again in a while.
    silent: the hosts that gave no answer in time in this run. They are left alone, and grow by
    this one's: a service that is down must not keep the other families from being reminded.
    """
    rows, host = PushPlace.objects, urlsplit(waiting.endpoint).hostname or ""
    place = None if host in silent else rows.unleased().not_yet_on(day).take(waiting.pk)
    if place is None:
        return False
    status: int | str
    try:
        status = within(IN_ALL, knock, place.endpoint, private_key())
    except TimeoutError:
        silent.add(host)
        status = "no answer in time"
    if status not in TAKEN:
        log.warning("push place %s was not woken: %s", place.pk, status)
    if status in GONE:
        place.delete()
    elif isinstance(status, str):
        rows.give_back(place)
    else:
        rows.note_woken(place, day)
    return status in TAKEN


def knock(endpoint: str, key: Vapid02) -> int | str:
    """Send the empty message, signed with *key*; give the status of the answer.

    Where there is none, in a word why. Raises TimeoutError.
    """
    if not may_be_push_service(endpoint) or not leads_outside(endpoint):
        return "it does not lead to a push service"
    # They take longer to load than the rest of the portal's pages together: only who sends does.
    import requests
    from pywebpush import WebPushException, webpush

    with requests.Session() as session:
        session.max_redirects = 0  # Redirects are never followed.
        try:
            answer = webpush(
                {"endpoint": endpoint},
                vapid_private_key=key,
                vapid_claims={"sub": who_sends()},
                ttl=STANDS_FOR,
                headers={"Urgency": "normal", "Topic": "reminder"},
                timeout=TIMEOUT,
                requests_session=session,
            )
        except WebPushException as error:
            return getattr(error.response, "status_code", "no answer")
        except requests.Timeout as error:
            raise TimeoutError from error
        except requests.RequestException as error:
            # Its words hold the address of a phone, and may not stand in a log.
            return type(error).__name__
    return answer.status_code


def who_sends() -> str:
    """Say whom a push service writes to when something is wrong. Source: RFC 8292, 2.1."""
    if settings.SITE_URL.startswith("https://"):
        return settings.SITE_URL
    address = settings.MAIL_FROM.rsplit("<", 1)[-1].rstrip(">").strip()
    return f"mailto:{address}"

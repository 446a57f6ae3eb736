"""Whether mail can go out, and whether others will take it for ours.

Source: RFC 7208 (SPF, section 4.5), RFC 6376 (DKIM, section 3.6.2.1), RFC 7489 (DMARC, section
6.1): each is a TXT record under the sender's domain.
"""

from collections.abc import Iterator
from email.utils import parseaddr
from smtplib import SMTPException

import dns.exception
import dns.resolver
from django.conf import settings
from django.core.mail import get_connection

from portal.operations.checks.lines import Line, bad, look, ok

SECONDS = 4.0


def check_server() -> Iterator[Line]:
    """Yield whether the mail server of EMAIL_URL answers and lets this portal in."""
    if "smtp" not in settings.EMAIL_BACKEND:
        yield look("mail server", "EMAIL_URL sends no mail to anybody: nothing to check.")
        return
    connection = get_connection(timeout=SECONDS)
    try:
        connection.open()
        connection.close()
    except (OSError, SMTPException) as error:
        kind = type(error).__name__
        yield bad("mail server", f"It does not take us in ({kind}). Look at EMAIL_URL.")
    else:
        yield ok("mail server", "It answers and takes us in.")


def check_records(resolver: dns.resolver.Resolver | None = None) -> Iterator[Line]:
    """Yield whether the sender's domain has the records by which others trust its mail."""
    domain = parseaddr(settings.MAIL_FROM)[1].rpartition("@")[2]
    if "." not in domain:
        yield look("mail records", f"MAIL_FROM is at {domain}, which nobody else can look up.")
        return
    resolver = resolver or dns.resolver.Resolver()
    try:
        resolver.resolve(domain, "NS", lifetime=SECONDS, raise_on_no_answer=False)
        for about, name, mark, advice in wanted_of(domain):
            found = [text for text in texts(resolver, name) if mark in text]
            yield judge(about, name, found, advice)
    except dns.resolver.NXDOMAIN:
        yield look("mail records", f"Could not be checked: no name server here knows {domain}.")
    except dns.exception.DNSException:
        yield look("mail records", "Could not be checked: no name server answers this machine.")
    if not settings.DKIM_SELECTOR:
        yield look("DKIM", "Could not be checked: set DKIM_SELECTOR to the mail server's selector.")


def wanted_of(domain: str) -> Iterator[tuple[str, str, str, str]]:
    """Yield for each record what it is called, its name, what it holds, and what to do for it."""
    yield "SPF", domain, "v=spf1", "name the mail server that may send for it"
    yield "DMARC", f"_dmarc.{domain}", "v=DMARC1", "say what to do with mail that is not yours"
    if selector := settings.DKIM_SELECTOR:
        place = f"{selector}._domainkey.{domain}"
        yield "DKIM", place, "p=", "publish the key that your mail server signs with"


def texts(resolver: dns.resolver.Resolver, name: str) -> list[str]:
    """Return the TXT records of *name*, none where there are none.

    Raises dns.exception.DNSException when nobody can say.
    """
    try:
        answer = resolver.resolve(name, "TXT", lifetime=SECONDS)
    except (dns.resolver.NXDOMAIN, dns.resolver.NoAnswer):
        return []
    return [b"".join(record.strings).decode("ascii", "replace") for record in answer]


def judge(about: str, name: str, found: list[str], advice: str) -> Line:
    """Return the line of one record."""
    if not found:
        return bad(about, f"There is no such record at {name}: {advice}.")
    if len(found) > 1 and about != "DKIM":
        return bad(about, f"There are {len(found)} at {name}, so none counts: keep one.")
    policy = dict(part.strip().split("=", 1) for part in found[0].split(";") if "=" in part)
    if about == "DKIM" and not policy.get("p"):
        return bad(about, f"The key at {name} is withdrawn: {advice}.")
    if about == "DMARC" and policy.get("p") != "reject":
        return look(about, f"{name} is there; p=reject would have false mail turned away.")
    return ok(about, f"{name} is there.")

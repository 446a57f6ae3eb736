"""The mails of the demo: each a file, and readable on a page and in the terminal. None leaves it.

Whatever EMAIL_URL says, a demo mails nobody: anybody may type anybody's address into it.
"""

import datetime as dt
import email
import re
import sys
import time
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from email import policy
from email.message import EmailMessage as Parsed
from pathlib import Path

from django.conf import settings
from django.core.mail import EmailMessage
from django.core.mail.backends.base import BaseEmailBackend

MOST = 500
LINK = re.compile(r"https?://[^\s<>\"]+")


@dataclass(frozen=True)
class Mail:
    """One mail as people read it. text: its words, in parts; those that are links to this portal.

    when: the date and time it says; parts: (text, whether it is such a link).
    """

    to: str
    subject: str
    when: dt.datetime | None
    parts: list[tuple[str, bool]]
    attached: list[str]


class KeepOnly(BaseEmailBackend):
    """Keeps each mail as a file in the data folder, and says it in the terminal."""

    def send_messages(self, email_messages: Sequence[EmailMessage]) -> int:
        """Keep *email_messages*, and give how many there were."""
        folder().mkdir(mode=0o700, parents=True, exist_ok=True)
        for message in email_messages:
            raw = message.message().as_bytes()
            path = folder() / f"{time.time_ns():020}-{uuid.uuid4().hex}.eml"
            path.with_suffix(".new").write_bytes(raw)
            path.with_suffix(".new").rename(path)
            say(read(raw))
        for old in sorted(folder().glob("*.eml"))[:-MOST]:
            old.unlink(missing_ok=True)
        return len(email_messages)


def folder() -> Path:
    """Return where the demo's mails lie."""
    return settings.DATA_DIR / "demo-mails"


def kept(most: int) -> list[Mail]:
    """Return up to *most* mails, the newest first."""
    newest = sorted(folder().glob("*.eml"), reverse=True)[:most]
    return [read(path.read_bytes()) for path in newest]


def forget() -> None:
    """Delete all of them."""
    for path in folder().glob("*.eml"):
        path.unlink(missing_ok=True)


def read(raw: bytes) -> Mail:
    """Return the mail in *raw*."""
    message = email.message_from_bytes(raw, _class=Parsed, policy=policy.default)
    body = message.get_body(("plain",))
    words = body.get_content() if body else ""
    attached = [part.get_filename() or "" for part in message.iter_attachments()]
    at = message["Date"].datetime if message["Date"] else None
    if at and at.tzinfo is None:  # "-0000": by the clock of no place. Source: RFC 5322, 3.3.
        at = at.replace(tzinfo=dt.UTC)
    return Mail(
        str(message["To"]),
        str(message["Subject"]),
        at,
        parts_of(words.strip()),
        attached,
    )


def parts_of(words: str) -> list[tuple[str, bool]]:
    """Take *words* apart at its links to this portal; a link elsewhere stays words."""
    found: list[tuple[str, bool]] = []
    at = 0
    for link in LINK.finditer(words):
        if link[0].startswith(f"{settings.SITE_URL}/"):
            found += [(words[at : link.start()], False), (link[0], True)]
            at = link.end()
    return [*found, (words[at:], False)]


def say(mail: Mail) -> None:
    """Print *mail* where the demo was started, past what turns the worker's words into a log."""
    words = "".join(part for part, _is_link in mail.parts)
    lines = "\n".join(f"  | {line}".rstrip() for line in words.splitlines())
    sys.__stdout__.write(f"\n  Mail to {mail.to}: {mail.subject}\n{lines}\n")
    sys.__stdout__.flush()

"""Mails that go out once each: leased rows that wait for the mail server.

A server that is away, or a line that breaks, costs a mail nothing. One that is there and does not
take a mail is asked again after the next of the row's `pauses`; when they are used up, no more.
"""

import datetime as dt
import logging
from collections.abc import Callable, Iterable
from contextlib import closing
from smtplib import (
    SMTPConnectError,
    SMTPException,
    SMTPRecipientsRefused,
    SMTPResponseException,
    SMTPServerDisconnected,
)
from typing import ClassVar, Self, TypeVar

from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.db import models
from django.utils import timezone

from portal.jobs.lease import TRY_AGAIN_IN, Leased, LeasedQuerySet
from portal.jobs.slots import mail_slot

log = logging.getLogger("portal.jobs")

# What a row begins with, and begins with again when its mail is asked for once more.
UNSENT = {"mailed_at": None, "leased_until": None, "crashes": 0, "refusal": ""}

Row = TypeVar("Row", bound="Outgoing")


class OutgoingQuerySet(LeasedQuerySet[Row]):
    """Mails by whether they are out."""

    lease = dt.timedelta(minutes=10)  # longer than one mail can take, see portal.jobs.smtp
    seldom = dt.timedelta()  # a mail kills no worker
    again_in = TRY_AGAIN_IN  # after a broken line
    pauses: ClassVar[tuple[dt.timedelta, ...]]  # what to wait after each refusal
    takes_no_for_an_answer = False  # whether a refusal for good is the last

    def unsent(self) -> Self:
        """Mails not out, that are not given up. Asks the row itself alone, see `unleased`."""
        return self.filter(mailed_at=None, crashes__lte=len(self.pauses))

    def to_send(self) -> Self:
        """Return unsent mails whose turn it is, and that no worker is at."""
        return self.unleased().unsent()

    def keys_to_send(self) -> list[int]:
        """Return the keys of the mails whose turn it is."""
        return list(self.to_send().values_list("pk", flat=True))

    def claim(self, pk: int) -> Row | None:
        """Take mail *pk* to send it; None: not there to take."""
        return self.to_send().take(pk)

    def note_sent(self, row: Row) -> None:
        """Note that *row* is out."""
        out = {"mailed_at": timezone.now(), "leased_until": None, "refusal": ""}
        self.held(row).update(**out)

    def give_back(self, row: Row) -> None:
        """Have *row* sent in a while, at no cost.

        Its number of attempts stays: what a worker says later that lost the row is not heard.
        """
        self.held(row).update(leased_until=timezone.now() + self.again_in)

    def refuse(self, row: Row, error: Exception) -> None:
        """Note why the server does not take *row*, and have it asked again after a pause."""
        last = self.takes_no_for_an_answer and is_for_good(error)
        pause = (*self.pauses, dt.timedelta())[min(row.crashes, len(self.pauses))]
        self.held(row).update(
            refusal=reason_of(error),
            crashes=len(self.pauses) + 1 if last else row.crashes + 1,
            leased_until=timezone.now() + pause,
        )

    def give_up(self) -> int:
        """Have none of these sent; give how many they are."""
        return self.update(crashes=len(self.pauses) + 1)


class Outgoing(Leased):
    """A row for which one mail goes out. `crashes` counts how often the server refused it."""

    mailed_at = models.DateTimeField(null=True, blank=True)
    refusal = models.CharField(max_length=60, blank=True, editable=False)

    class Meta:
        abstract = True


def send_each(
    rows: OutgoingQuerySet[Row], keys: Iterable[int], compose: Callable[[Row], EmailMessage]
) -> int:
    """Send the mails of *rows* with these *keys*, each once, if a slot for mails is free.

    Gives how many went out. While the server is away none is claimed. One line serves all; where
    it breaks, or a mail is refused, the next goes by a new one: no mail keeps others waiting.
    """
    sent = 0
    with mail_slot() as free, closing(get_connection()) as connection:
        for pk in keys if free else ():
            if not answers(connection):
                break
            sent += send_one(rows, pk, compose, connection)
    return sent


def answers(connection: BaseEmailBackend) -> bool:
    """Open the line to the mail server where it is not open, and tell whether it is there."""
    try:
        connection.open()
    except OSError as error:
        log.warning("the mail server does not answer: %s", type(error).__name__)
        return False
    return True


def send_one(
    rows: OutgoingQuerySet[Row],
    pk: int,
    compose: Callable[[Row], EmailMessage],
    connection: BaseEmailBackend,
) -> bool:
    """Send mail *pk* unless another worker took it, and tell whether it went out."""
    row = rows.claim(pk)
    if row is None:
        return False
    try:
        message = compose(row)
        message.connection = connection
        message.send()
    except Exception as error:
        # The words of a mail server hold addresses, and may not stand in a log.
        log.warning("%s %s was not taken: %s", row._meta.model_name, pk, type(error).__name__)
        connection.close()  # What is left of it may be broken.
        if is_an_answer(error):
            rows.refuse(row, error)
        else:
            rows.give_back(row)
        return False
    rows.note_sent(row)
    return True


def is_an_answer(error: Exception) -> bool:
    """Whether the mail server is there, and did not take this one mail."""
    by_server = isinstance(error, SMTPException)
    return by_server and not isinstance(error, SMTPServerDisconnected | SMTPConnectError)


def is_for_good(error: Exception) -> bool:
    """Whether the mail server will not take this mail later either. Source: RFC 5321, 4.2.1."""
    codes = codes_of(error)
    return bool(codes) and min(codes) >= 500


def reason_of(error: Exception) -> str:
    """Say why a mail was refused: by the server's number, as its words hold addresses."""
    return " ".join([type(error).__name__, *map(str, sorted(codes_of(error)))])[:60]


def codes_of(error: Exception) -> set[int]:
    """Return the numbers that the mail server answered with."""
    if isinstance(error, SMTPRecipientsRefused):
        return {code for code, _words in error.recipients.values()}
    return {error.smtp_code} if isinstance(error, SMTPResponseException) else set()

"""Sending what is due: each once, by mail and to browsers; no mail names a child."""

import datetime as dt
import logging
from smtplib import SMTPException

from django.conf import settings
from django.core import signing
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from evidence.reminders.choices import PushPlace, Reminder
from evidence.reminders.due import due
from evidence.reminders.push import wake
from portal.people.models import User

log = logging.getLogger("evidence")

STOP_SALT = "evidence.stop-reminders"


def send_due() -> int:
    """Send the reminders that are due now; give to how many adults.

    While the mail server is not there, those who want mail are left: there is time to try again.
    """
    found = dict(due(timezone.now()))
    wants_mail = Reminder.objects.filter(pk__in=found, by_mail=True)
    by_mail = set(wants_mail.values_list("pk", flat=True))
    connection = get_connection()
    if by_mail and not answers(connection):
        found = {adult: day for adult, day in found.items() if adult not in by_mail}
    try:
        silent: set[str] = set()
        return sum(remind(adult, day, connection, silent) for adult, day in found.items())
    finally:
        connection.close()


def answers(connection: BaseEmailBackend) -> bool:
    """Open the line to the mail server, and tell whether it is there."""
    try:
        connection.open()
    except (OSError, SMTPException) as error:
        log.warning("the mail server does not answer: %s", type(error).__name__)
        return False
    return True


def remind(adult_pk: int, day: dt.date, connection: BaseEmailBackend, silent: set[str]) -> bool:
    """Send the one reminder of *day* to an adult, unless another worker took it.

    silent: see `wake`.
    """
    if not Reminder.objects.claim(adult_pk, day):
        return False
    reminder = Reminder.objects.select_related("adult").get(pk=adult_pk)
    if reminder.by_mail and reminder.adult.is_reached_by_mail:
        send_mail(reminder, day, connection)
    for place in PushPlace.objects.filter(adult=adult_pk):
        wake(place, silent)
    return True


def send_mail(reminder: Reminder, day: dt.date, connection: BaseEmailBackend) -> None:
    """Mail one reminder. What a server refuses is not sent again: tomorrow there is another."""
    try:
        message = compose(reminder.adult, day)
        message.connection = connection
        message.send()
    except (OSError, SMTPException) as error:
        # The words of a mail server hold addresses, and may not stand in a log.
        log.warning("reminder %s was not taken: %s", reminder.pk, type(error).__name__)
        connection.close()  # What is left of it may be broken; the next mail opens it anew.


def compose(adult: User, day: dt.date) -> EmailMessage:
    """Put a reminder into words, in the language of who gets it."""
    stop = address("evidence:reminders-stop", stop_token(adult))
    with translation.override(adult.language):
        body = _(
            "Hello,\n\n"
            "You asked us to remind you. There is number work for today:\n"
            "%(page)s\n\n"
            "If it does not fit today, you can say so there with one press.\n\n"
            "To stop these mails, open this page and press the button:\n"
            "%(stop)s\n"
        ) % {"page": address("tasks:today"), "stop": stop}
        return EmailMessage(
            subject=_("A reminder"),
            body=body,
            to=[adult.email],
            headers={"Message-ID": message_id(adult, day), **stop_headers(stop)},
        )


def address(name: str, *arguments: object) -> str:
    """Return the whole address of a page."""
    return settings.SITE_URL + reverse(name, args=arguments)


def message_id(adult: User, day: dt.date) -> str:
    """Give the same Message-ID for one adult and day, so that a mail that came twice shows once."""
    digest = signing.Signer(salt="evidence.reminder").signature(f"{day} {adult.pk}")
    return f"<reminder.{digest}@{settings.SITE_HOST}>"


def stop_headers(stop: str) -> dict[str, str]:
    """Return the headers of one-click unsubscription. Source: RFC 8058, section 3.1."""
    return {
        "List-Unsubscribe": f"<{stop}>",
        "List-Unsubscribe-Post": "List-Unsubscribe=One-Click",
    }


def stop_token(adult: User) -> str:
    """Return what stops the reminders to *adult*, and does nothing else; it never runs out."""
    return signing.Signer(salt=STOP_SALT).sign(str(adult.pk))


def adult_of(token: str) -> int | None:
    """Return the key of the adult whose reminders *token* stops; None for a made-up one."""
    try:
        return int(signing.Signer(salt=STOP_SALT).unsign(token))
    except (signing.BadSignature, ValueError):
        return None

"""Sending what is due: each once, by mail and to browsers; no mail names a child."""

import datetime as dt
import logging
from smtplib import SMTPException

from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from evidence.reminders.choices import PushPlace, Reminder
from evidence.reminders.due import due
from evidence.reminders.push import wake
from portal.jobs.outbox import answers
from portal.jobs.unsubscribing import StopLink, address, message_id
from portal.people.models import User

log = logging.getLogger("evidence")

STOP = StopLink("evidence.stop-reminders", "evidence:reminders-stop")


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
        connection.close()  # What is left of it may be broken; the next mail opens it again.


def compose(adult: User, day: dt.date) -> EmailMessage:
    """Put a reminder into words, in the language of who gets it."""
    with translation.override(adult.language):
        body = _(
            "Hello,\n\n"
            "You asked us to remind you. There is number work for today:\n"
            "%(page)s\n\n"
            "If it does not suit you today, you can say so there with one press.\n\n"
            "To stop these mails, open this page and press the button:\n"
            "%(stop)s\n"
        ) % {"page": address("tasks:today"), "stop": STOP.address(adult.pk)}
        return EmailMessage(
            subject=_("A reminder"),
            body=body,
            to=[adult.email],
            headers={"Message-ID": id_of(adult, day), **STOP.headers(adult.pk)},
        )


def id_of(adult: User, day: dt.date) -> str:
    """Return the Message-ID of the reminder of *day* to *adult*."""
    return message_id("reminder", "evidence.reminder", f"{day} {adult.pk}")

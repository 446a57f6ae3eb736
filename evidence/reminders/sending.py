"""Sending what is due: each once, by mail and to browsers; no mail names a child."""

import datetime as dt

from django.core.mail import EmailMessage
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from evidence.reminders.choices import PushPlace, Reminder
from evidence.reminders.due import due
from evidence.reminders.push import wake
from portal.jobs.outbox import send_each
from portal.jobs.unsubscribing import StopLink, address, message_id
from portal.people.models import User

STOP = StopLink("evidence.stop-reminders", "evidence:reminders-stop")


def send_due() -> None:
    """Send the reminders that are due now, each once: the mails, then to browsers.

    While the mail server is not there, the mails wait: there is time to try again. What it refuses
    is not sent again: tomorrow there is another.
    """
    found = dict(due(timezone.now()))
    reminders = Reminder.objects.filter(pk__in=found)
    for adult, day in found.items():
        reminders.filter(pk=adult).ask_on(day)
    send_each(Reminder.objects.all(), reminders.reached_by_mail().keys_to_send(), compose)
    silent: set[str] = set()
    for place in PushPlace.objects.filter(adult__in=found):
        wake(place, found[place.adult_id], silent)


def compose(reminder: Reminder) -> EmailMessage:
    """Put a reminder into words, in the language of who gets it."""
    adult = reminder.adult
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
            headers={"Message-ID": id_of(adult, reminder.last_day), **STOP.headers(adult.pk)},
        )


def id_of(adult: User, day: dt.date) -> str:
    """Return the Message-ID of the reminder of *day* to *adult*."""
    return message_id("reminder", "evidence.reminder", f"{day} {adult.pk}")

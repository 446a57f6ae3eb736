"""The mail that says a week is summed up: sent once, and naming nobody.

Its words are the same for every family: no child, no school, no work. Whoever wants to read
more signs in.
"""

import datetime as dt

from django.core.mail import EmailMessage
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from assessment.insight.weeks import Week
from assessment.models import SummaryMail
from assessment.weekly.models.summaries import SummaryMailQuerySet
from portal.jobs.outbox import send_each
from portal.jobs.unsubscribing import StopLink, address, message_id
from portal.people.models import Guardianship, Home, StaffPost

STALE = dt.timedelta(days=7)
STOP = StopLink("assessment.stop-mail", "assessment:stop-mail")


def waiting(now: dt.datetime) -> SummaryMailQuerySet:
    """Return the mails to send at *now*: still fresh, still wanted, not tried just before."""
    at_home = Guardianship.objects.current().filter(
        adult=OuterRef("recipient"), home=OuterRef("home"), child=OuterRef("summary__child")
    )
    at_school = StaffPost.objects.current().filter(
        user=OuterRef("recipient"), classes=OuterRef("summary__school_class")
    )
    confirmed = Q(recipient__email_confirmed_at__isnull=False, home__wants_mail=True)
    wanted = Q(Exists(at_home)) & confirmed | Q(Exists(at_school), home=None)
    fresh = SummaryMail.objects.to_send().filter(summary__made_at__gt=now - STALE)
    reached = {"recipient__is_active": True, "recipient__mail_came_back_at": None}
    return fresh.filter(wanted, **reached).order_by("pk")


def send_waiting() -> int:
    """Send every mail that waits, each once; give how many went out."""
    found = waiting(timezone.now()).values_list("pk", flat=True)
    return send_each(SummaryMail.objects.all(), list(found), compose)


def compose(mail: SummaryMail) -> EmailMessage:
    """Put *mail* into words, in the language of who gets it."""
    week = str(Week.of(mail.week))
    stop = STOP.headers(mail.home.pk) if mail.home else {}
    with translation.override(mail.recipient.language):
        words = family_words(mail.home, week) if mail.home else staff_words(mail, week)
        return EmailMessage(
            subject=_("The week's summary is ready"),
            body=words,
            to=[mail.recipient.email],
            headers={
                "Message-ID": id_of(mail),
                **stop,
            },
        )


def family_words(home: Home, week: str) -> str:
    """Return the words for a family."""
    return _(
        "Hello,\n\n"
        "This week's number work is summed up. Sign in to read it:\n"
        "%(page)s\n\n"
        "To stop this weekly mail, open this page and press the button:\n"
        "%(stop)s\n"
    ) % {"page": address("assessment:week", week), "stop": STOP.address(home.pk)}


def staff_words(mail: SummaryMail, week: str) -> str:
    """Return the words for a teacher."""
    page = address("assessment:class-week", mail.summary.school_class_id, week)
    return _("Hello,\n\nThe week of your class is summed up. Sign in to read it:\n%(page)s\n") % {
        "page": page
    }


def id_of(mail: SummaryMail) -> str:
    """Return the Message-ID of *mail*."""
    return message_id("week", "assessment.mail", f"{mail.week} {mail.pk}")

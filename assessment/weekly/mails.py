"""The mail that says a week is rolled up: sent once, and naming nobody.

Its words are the same for every family: no child, no school, no work. Whoever wants to read
more signs in.
"""

import datetime as dt
import logging
from smtplib import SMTPException

from django.conf import settings
from django.core import signing
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.db.models import Exists, OuterRef, Q, QuerySet
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from assessment.insight.weeks import Week
from assessment.models import SummaryMail
from portal.people.models import Guardianship, Home, StaffPost

log = logging.getLogger("assessment")

# What to wait after each attempt; five in all, so that a mail outlives a day without a server.
PAUSES = tuple(dt.timedelta(minutes=minutes) for minutes in (10, 60, 6 * 60, 24 * 60))
MAX_ATTEMPTS = len(PAUSES) + 1
STALE = dt.timedelta(days=7)
STOP_SALT = "assessment.stop-mail"


def waiting(now: dt.datetime) -> QuerySet[SummaryMail]:
    """Return the mails to send at *now*: still fresh, still wanted, not tried just before."""
    due = Q(attempts=0, claimed_at=None)
    for attempts, pause in enumerate(PAUSES, start=1):
        due |= Q(attempts=attempts, claimed_at__lt=now - pause)
    at_home = Guardianship.objects.current().filter(
        adult=OuterRef("recipient"), home=OuterRef("home"), child=OuterRef("summary__child")
    )
    at_school = StaffPost.objects.current().filter(
        user=OuterRef("recipient"), classes=OuterRef("summary__school_class")
    )
    confirmed = Q(recipient__email_confirmed_at__isnull=False, home__wants_mail=True)
    wanted = Q(Exists(at_home)) & confirmed | Q(Exists(at_school), home=None)
    fresh = SummaryMail.objects.filter(sent_at=None, summary__made_at__gt=now - STALE)
    reached = {"recipient__is_active": True, "recipient__mail_came_back_at": None}
    return fresh.filter(due & wanted, **reached).order_by("pk")


def claim(pk: int, attempts: int, now: dt.datetime) -> bool:
    """Take mail *pk*, tried *attempts* times so far, for one more attempt.

    One UPDATE decides, so of two workers exactly one is told True.
    """
    untouched = SummaryMail.objects.filter(pk=pk, attempts=attempts, sent_at=None)
    return untouched.update(claimed_at=now, attempts=attempts + 1) == 1


def send_waiting() -> int:
    """Send every mail that waits, each once; give how many went out.

    While the mail server is not there none is claimed, so none uses up its attempts.
    """
    found = list(waiting(timezone.now()).values_list("pk", "attempts"))
    if not found:
        return 0
    connection = get_connection()
    try:
        connection.open()
    except (OSError, SMTPException) as error:
        log.warning("the mail server does not answer: %s", type(error).__name__)
        return 0
    try:
        return sum(send(pk, attempts, connection) for pk, attempts in found)
    finally:
        connection.close()


def send(pk: int, attempts: int, connection: BaseEmailBackend) -> bool:
    """Send mail *pk* unless another worker took it, and tell whether it went out."""
    if not claim(pk, attempts, timezone.now()):
        return False
    mail = SummaryMail.objects.select_related("summary", "recipient", "home").get(pk=pk)
    try:
        message = compose(mail)
        message.connection = connection
        message.send()
    except (OSError, SMTPException) as error:
        # The words of a mail server hold addresses, and may not stand in a log.
        log.warning("mail %s was not taken: %s", pk, type(error).__name__)
        connection.close()  # What is left of it may be broken; the next mail opens it anew.
        return False
    SummaryMail.objects.filter(pk=pk).update(sent_at=timezone.now())
    return True


def compose(mail: SummaryMail) -> EmailMessage:
    """Put *mail* into words, in the language of who gets it."""
    week = str(Week.of(mail.week))
    with translation.override(mail.recipient.language):
        words = family_words(mail.home, week) if mail.home else staff_words(mail, week)
        return EmailMessage(
            subject=_("The week's summary is ready"),
            body=words,
            to=[mail.recipient.email],
            headers={"Message-ID": message_id(mail), **stop_headers(mail.home)},
        )


def family_words(home: Home, week: str) -> str:
    """Return the words for a family."""
    return _(
        "Hello,\n\n"
        "This week's number work is rolled up. Sign in to read it:\n"
        "%(page)s\n\n"
        "To stop this weekly mail, open this page and press the button:\n"
        "%(stop)s\n"
    ) % {"page": address("assessment:week", week), "stop": stop_address(home)}


def staff_words(mail: SummaryMail, week: str) -> str:
    """Return the words for a teacher."""
    page = address("assessment:class-week", mail.summary.school_class_id, week)
    return _("Hello,\n\nThe week of your class is rolled up. Sign in to read it:\n%(page)s\n") % {
        "page": page
    }


def address(name: str, *arguments: object) -> str:
    """Return the whole address of a page."""
    return settings.SITE_URL + reverse(name, args=arguments)


def message_id(mail: SummaryMail) -> str:
    """Return the same Message-ID at every attempt, so that a mail that came twice shows once."""
    digest = signing.Signer(salt="assessment.mail").signature(f"{mail.week} {mail.pk}")
    return f"<week.{digest}@{settings.SITE_HOST}>"


def stop_token(home: Home) -> str:
    """Return what stops the weekly mail of *home*, and does nothing else; it never runs out."""
    return signing.Signer(salt=STOP_SALT).sign(str(home.pk))


def home_of(token: str) -> Home | None:
    """Return the home whose mail *token* stops; None for a made-up one."""
    try:
        return Home.objects.filter(pk=signing.Signer(salt=STOP_SALT).unsign(token)).first()
    except signing.BadSignature:
        return None


def stop_address(home: Home) -> str:
    """Return the address at which one stops the weekly mail of *home*."""
    return address("assessment:stop-mail", stop_token(home))


def stop_headers(home: Home | None) -> dict[str, str]:
    """Return the headers of one-click unsubscription. Source: RFC 8058, section 3.1."""
    if home is None:
        return {}
    return {
        "List-Unsubscribe": f"<{stop_address(home)}>",
        "List-Unsubscribe-Post": "List-Unsubscribe=One-Click",
    }

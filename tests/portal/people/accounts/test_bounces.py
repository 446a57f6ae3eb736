"""A mail that comes back is told to the office, stops the weekly mail, and names nobody."""

import datetime as dt
import io
import re
import sys

import pytest
from django.core import mail
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from assessment.insight.weeks import Week
from assessment.weekly.mails import waiting
from assessment.weekly.summaries import make_summary
from portal.people.jobs import send_waiting_codes
from portal.people.models import Home, Invitation, User
from tests.assessment.builders import set_day

pytestmark = pytest.mark.django_db
STATUS = """From: MAILER-DAEMON@mail.example
To: portal@school.example
Subject: Undelivered
MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status; boundary="b"

--b

It could not be delivered.
--b
Content-Type: message/delivery-status

Reporting-MTA: dns; mail.example

Final-Recipient: rfc822; {address}
Action: {action}
Status: {status}
--b--
"""


def come_back(address: str, monkeypatch, action: str = "failed", status: str = "5.1.1") -> str:
    """Pipe a delivery status about *address* into the command, and give what it said."""
    raw = STATUS.format(address=address, action=action, status=status).encode()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw)))
    said = io.StringIO()
    call_command("read_bounce", stdout=said)
    return said.getvalue()


@pytest.fixture
def family(village) -> User:
    """Return an adult at home whose address is confirmed."""
    family = village.people["family"]
    family.email_confirmed_at = timezone.now()
    family.save()
    return family


def page_of_homes(village, signed_in) -> str:
    """Return what the office reads of Aisha's homes."""
    return (
        signed_in("office").get(reverse("people:homes", args=[village.aisha.pk])).content.decode()
    )


def test_the_office_reads_that_mail_comes_back(village, family, signed_in, monkeypatch):
    assert "comes back" not in page_of_homes(village, signed_in)
    assert come_back("Family@Example.org", monkeypatch) == "1 marked.\n"
    assert page_of_homes(village, signed_in).count("comes back since") == 1


@pytest.mark.parametrize("action", ["delayed", "relayed", "delivered", "expanded", ""])
def test_a_mail_that_may_still_arrive_marks_nobody(village, family, monkeypatch, action):
    assert come_back(family.email, monkeypatch, action, "4.4.1") == "0 marked.\n"


def test_an_address_nobody_has_and_what_is_no_status_mark_nobody(village, monkeypatch):
    assert come_back("stranger@example.org", monkeypatch) == "0 marked.\n"
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"\xff\x00 no mail at all")))
    call_command("read_bounce", stdout=io.StringIO())
    assert not User.objects.exclude(mail_came_back_at=None).exists()


def test_the_weekly_mail_waits_and_the_code_for_signing_in_does_not(village, family, monkeypatch):
    Home.objects.update(wants_mail=True)
    set_day(village.robins)
    make_summary(village.robins.pk, Week(2026, 48))
    now = timezone.now() + dt.timedelta(minutes=1)
    to_family = waiting(now).filter(recipient=family)
    assert to_family.count() == 1
    come_back(family.email, monkeypatch)
    assert to_family.all().count() == 0
    client = Client()
    client.post(reverse("people:sign-in"), {"email": family.email})
    send_waiting_codes()
    client.post(reverse("people:link"), {"link": mailed_link_of_code()})
    # Whoever comes in by the mail has got it.
    assert to_family.all().count() == 1


def mailed_link_of_code() -> str:
    """Return what stands behind the # of the link in the last mail."""
    return re.search(r"#(\S+)", mail.outbox[-1].body)[1]


def test_an_invitation_that_comes_back_is_shown_until_it_is_mailed_anew(
    village, signed_in, monkeypatch
):
    office = village.people["office"]
    typed = "typed-wrong@example.org"
    invitation = Invitation.ask_by_mail(village.ben, village.bens_home, typed, office)
    Invitation.objects.update(mailed_at=timezone.now())
    come_back(typed, monkeypatch)
    page = reverse("people:invitations")
    assert "mail came back" in signed_in("office").get(page).content.decode()
    signed_in("office").post(reverse("people:invitation-again", args=[invitation.pk]))
    assert "mail came back" not in signed_in("office").get(page).content.decode()

"""What every mail can rely on, whoever sends it: once, at no cost of our own, no one blocked."""

import datetime as dt
import smtplib
from collections.abc import Iterator
from unittest import mock

import pytest
from django.core.mail import EmailMessage
from django.core.mail.backends.locmem import EmailBackend
from django.utils import timezone
from freezegun import freeze_time

from assessment.models import SummaryMail, WeekSummary
from portal.jobs.outbox import send_each

pytestmark = pytest.mark.django_db
WEEK = dt.date(2026, 11, 23)


@pytest.fixture
def clock() -> Iterator:
    with freeze_time("2026-11-27 16:00") as clock:
        yield clock


@pytest.fixture
def mails(village, clock) -> list[int]:
    """Return the keys of two mails that wait."""
    summary = WeekSummary.objects.create(
        audience="staff", school_class=village.robins, week=WEEK, figures={}
    )
    readers = [village.people["teacher"], village.people["lead"]]
    return [summary.mails.create(recipient=reader, week=WEEK).pk for reader in readers]


def compose(row: SummaryMail) -> EmailMessage:
    return EmailMessage("A mail", "Words", to=[row.recipient.email])


def run(mails: list[int], first_fails_by: Exception | None = None) -> int:
    """Send what waits; the server, or the line to it, fails at the mail to the teacher."""
    deliver = EmailBackend.send_messages

    def send(backend, messages):
        if first_fails_by and messages[0].to[0].startswith("teacher"):
            raise first_fails_by
        return deliver(backend, messages)

    with mock.patch.object(EmailBackend, "send_messages", send):
        return send_each(SummaryMail.objects.all(), mails, compose)


def test_a_line_that_breaks_costs_a_mail_nothing_and_keeps_no_other_waiting(mails, clock):
    assert run(mails, smtplib.SMTPServerDisconnected("gone")) == 1
    assert SummaryMail.objects.get(pk=mails[0]).crashes == 0
    for _hour in range(48):
        clock.tick(dt.timedelta(hours=1))
        run(mails, ConnectionResetError())
    clock.tick(dt.timedelta(hours=1))
    assert run(mails) == 1
    assert not SummaryMail.objects.unsent()


def test_a_refused_mail_says_why_by_a_number_and_by_nobodys_address(mails):
    run(mails, smtplib.SMTPRecipientsRefused({"teacher@example.org": (550, b"teacher@ who?")}))
    refused = SummaryMail.objects.get(pk=mails[0])
    assert (refused.refusal, refused.crashes) == ("SMTPRecipientsRefused 550", 1)
    assert not SummaryMail.objects.to_send()


def test_a_mail_that_cannot_be_put_into_words_keeps_no_other_waiting(mails, mailoutbox, caplog):
    def stumble(row: SummaryMail) -> EmailMessage:
        if row.pk == mails[0]:
            raise ValueError("teacher@example.org")
        return compose(row)

    assert send_each(SummaryMail.objects.all(), mails, stumble) == 1
    assert "@" not in caplog.text


def test_a_worker_that_lost_a_mail_changes_nothing_of_it_any_more(mails, clock):
    rows = SummaryMail.objects.all()
    late = rows.claim(mails[0])
    clock.tick(rows.lease + dt.timedelta(seconds=1))
    current = rows.claim(mails[0])
    rows.give_back(current)
    rows.note_sent(late)
    assert rows.get(pk=mails[0]).mailed_at is None
    clock.tick(dt.timedelta(minutes=2))
    rows.note_sent(rows.claim(mails[0]))
    assert rows.get(pk=mails[0]).mailed_at == timezone.now()

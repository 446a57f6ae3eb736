"""A code is mailed once, as soon as the mail server takes it, and never when it is too late."""

import datetime as dt
import smtplib
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from portal.people.jobs import send_waiting_codes
from portal.people.models import SignInCode, User
from tests.portal.people.proof import prove

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


@pytest.fixture
def confirmed(village) -> User:
    """Return the family's adult, whose address is confirmed."""
    user = village.people["family"]
    prove(user)
    return user


def ask(client: Client, email: str) -> None:
    client.post(reverse("people:sign-in"), {"email": email})


@contextmanager
def failing_by(error: Exception, monkeypatch) -> Iterator[None]:
    """Have every mail fail by *error*."""

    def fail(*_arguments: object) -> None:
        raise error

    with monkeypatch.context() as failing:
        failing.setattr(EmailBackend, "send_messages", fail)
        yield


def refusal(code: int) -> smtplib.SMTPException:
    return smtplib.SMTPRecipientsRefused({"somebody@example.org": (code, b"no")})


def test_a_mail_that_cannot_be_sent_is_tried_again(confirmed, client, monkeypatch):
    ask(client, confirmed.email)
    with failing_by(OSError(), monkeypatch):
        for _more_than_look_odd in range(9):
            send_waiting_codes()
    assert not mail.outbox
    send_waiting_codes()
    assert len(mail.outbox) == 1


def test_a_mail_that_is_not_taken_now_goes_within_ten_seconds_and_never_too_late(
    confirmed, client, monkeypatch
):
    with freeze_time(timezone.now()) as clock:
        ask(client, confirmed.email)
        with failing_by(refusal(451), monkeypatch):
            for _sweep in range(119):
                send_waiting_codes()
                clock.tick(dt.timedelta(seconds=5))
        asked = SignInCode.objects.get()
        assert asked.refusal == "SMTPRecipientsRefused 451"
        clock.move_to(asked.expires_at)
        send_waiting_codes()
        assert not mail.outbox
        ask(client, confirmed.email)
        with failing_by(refusal(451), monkeypatch):
            send_waiting_codes()
        clock.tick(dt.timedelta(seconds=10))
        send_waiting_codes()
        assert len(mail.outbox) == 1


def test_an_address_that_is_refused_for_good_is_not_mailed_again(confirmed, client, monkeypatch):
    with freeze_time(timezone.now()) as clock:
        ask(client, confirmed.email)
        with failing_by(refusal(550), monkeypatch):
            send_waiting_codes()
        clock.tick(dt.timedelta(minutes=5))
        send_waiting_codes()
        assert not mail.outbox
        assert SignInCode.objects.get().refusal == "SMTPRecipientsRefused 550"


def test_a_code_whose_worker_died_is_mailed_a_minute_later(confirmed, client):
    with freeze_time(timezone.now()) as clock:
        ask(client, confirmed.email)
        SignInCode.objects.claim(SignInCode.objects.get().pk)
        send_waiting_codes()
        assert not mail.outbox
        clock.tick(dt.timedelta(minutes=1, seconds=1))
        send_waiting_codes()
        assert len(mail.outbox) == 1

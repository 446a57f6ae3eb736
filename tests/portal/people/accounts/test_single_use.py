"""What opens a door is good once, and is not to be read in the database."""

import re

import pytest
from django.core import mail
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from portal.people.accounts.models.fingerprints import bare
from portal.people.jobs import send_waiting_codes
from portal.people.models import Invitation, RecoveryCode, SignInCode

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


@pytest.fixture
def confirmed(village):
    """Give the family's adult, whose address is confirmed."""
    user = village.people["family"]
    user.email_confirmed_at = timezone.now()
    user.save()
    return user


def mailed_to(user, client: Client) -> tuple[str, str]:
    """Ask for a code for *user*, and give the digits and the link that were mailed."""
    client.post(reverse("people:sign-in"), {"email": user.email})
    send_waiting_codes()
    body = mail.outbox[-1].body
    return re.search(r"\b(\d{6})\b", body)[1], re.search(r"/sign-in/link/#(\S+)", body)[1]


@pytest.mark.parametrize("which", [0, 1], ids=["digits", "link"])
def test_a_code_that_let_in_proves_nothing_a_second_time_in_the_same_browser(
    confirmed, client, which
):
    secret = mailed_to(confirmed, client)[which]
    page, typed = (("people:code", {"code": secret}), ("people:link", {"link": secret}))[which]
    assert client.post(reverse(page), typed).status_code == 302
    again = client.post(reverse(page), typed)
    assert again.status_code == 200
    assert again.context["form"].errors


def test_the_digits_are_dead_once_the_link_was_used(confirmed, client):
    digits, link = mailed_to(confirmed, client)
    client.post(reverse("people:link"), {"link": link})
    assert client.post(reverse("people:code"), {"code": digits}).status_code == 200
    assert not SignInCode.objects.exists()


def test_recovery_codes_cannot_be_read_in_the_database(village):
    shown = RecoveryCode.issue(village.people["teacher"])
    kept = " ".join(RecoveryCode.objects.values_list("code_hash", flat=True)).upper()
    assert not [code for code in shown if code in kept or bare(code) in kept]


def test_the_letters_of_a_slip_cannot_be_read_in_the_database(village):
    slip = Invitation.issue(village.ben, village.bens_home, village.people["office"])
    kept = Invitation.objects.get().code_hash.upper()
    assert slip not in kept
    assert bare(slip) not in kept


def test_asking_for_a_code_takes_the_same_queries_for_any_address(confirmed):
    def asked(email: str) -> list[str]:
        with CaptureQueriesContext(connection) as queries:
            Client().post(reverse("people:sign-in"), {"email": email})
        # Whatever stands in them: an address, a key or none, the name of a savepoint.
        return [re.sub(r"'[^']*'|s?\d+(_x\d+)?|NULL", "?", query["sql"]) for query in queries]

    asked("first@example.org")  # What is asked once in the life of a server.
    assert asked(confirmed.email) == asked("nobody@example.org")

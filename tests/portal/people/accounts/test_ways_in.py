"""Nobody stands before a shut door: with an address or without, on the first phone or another."""

import datetime as dt
import re

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from portal.people.accounts.known_browsers import BEEN
from portal.people.jobs import send_waiting_codes
from portal.people.models import Guardianship, Invitation, User

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
KIT = "kit@example.org"
FAMILY_PAGES = [
    *("tasks:today", "evidence:sent", "people:account", "privacy:family", "evidence:reminders"),
    "assessment:this-week",
]


def is_in(client: Client) -> bool:
    return client.get(reverse("people:account")).status_code == 200


def slip_for(village) -> str:
    return Invitation.issue(village.ben, village.bens_home, village.people["office"])


def come_in(village, email: str, client: Client | None = None) -> Client:
    client = client or Client()
    typed = {"slip": slip_for(village), "name": "Kit", "email": email}
    client.post(reverse("people:come-in"), typed)
    return client


def ask(client: Client, email: str):
    mail.outbox.clear()
    answer = client.post(reverse("people:sign-in"), {"email": email}, follow=True)
    send_waiting_codes()
    return answer


def type_code(client: Client):
    digits = re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1]
    return client.post(reverse("people:code"), {"code": digits})


def test_who_signed_out_before_confirming_comes_back_by_a_code_in_the_same_browser(village):
    phone = come_in(village, KIT)
    phone.post(reverse("people:sign-out"))
    ask(phone, KIT)
    type_code(phone)
    assert is_in(phone)
    assert User.objects.proved(KIT).get().guardianships.get().child == village.ben


def test_whose_time_ran_out_before_confirming_comes_back_by_a_code_in_the_same_browser(village):
    now = timezone.now()
    with freeze_time(now):
        phone = come_in(village, KIT)
    with freeze_time(now + dt.timedelta(days=13)):
        assert is_in(phone)
    with freeze_time(now + dt.timedelta(days=26)):
        assert is_in(phone)
        session = phone.session
        session["seen"] = int((now - dt.timedelta(days=1)).timestamp())
        session.save()
        assert not is_in(phone)
        ask(phone, KIT)
        type_code(phone)
        assert is_in(phone)


def test_a_stranger_whose_address_was_typed_by_mistake_gets_no_code_for_it(village):
    come_in(village, KIT).post(reverse("people:sign-out"))
    ask(Client(), KIT)
    assert not mail.outbox


def test_the_page_that_waits_for_a_code_leads_to_a_slip_and_a_fresh_slip_lets_in(village):
    come_in(village, KIT)
    other = Client()
    page = ask(other, KIT)
    assert reverse("people:come-in") in page.content.decode()
    come_in(village, KIT, other)
    assert is_in(other)
    other.post(reverse("people:confirm"))
    send_waiting_codes()
    type_code(other)
    again = Client()
    ask(again, KIT)
    type_code(again)
    assert is_in(again)


def test_a_parent_whose_address_somebody_else_typed_comes_in_and_can_prove_it(village):
    come_in(village, KIT)
    parent = Client()
    slip = Invitation.issue(village.aisha, village.first_home, village.people["office"])
    typed = {"slip": slip, "name": "The parent", "email": KIT}
    page = parent.post(reverse("people:come-in"), typed, follow=True)
    assert page.redirect_chain[-1][0] == reverse("people:confirm")
    parent.post(reverse("people:confirm"))
    send_waiting_codes()
    type_code(parent)
    assert User.objects.proved(KIT).get().name == "The parent"


def test_a_wrong_address_can_be_put_right_as_soon_as_one_is_in(village):
    phone = come_in(village, "wrong@example.org")
    phone.post(reverse("people:address"), {"email": KIT})
    send_waiting_codes()
    digits = re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1]
    phone.post(reverse("people:address-code"), {"code": digits})
    assert User.objects.proved(KIT).exists()
    assert is_in(phone)
    assert [message.to for message in mail.outbox] == [[KIT]]


def test_a_home_without_an_address_comes_in_by_slip_alone_and_every_page_is_there(village):
    phone = come_in(village, "")
    for name in FAMILY_PAGES:
        page = phone.get(reverse(name), follow=True)
        assert page.status_code == 200, name
        assert page.redirect_chain == [] or name == "assessment:this-week", name
    assert "None" not in phone.get(reverse("people:account")).content.decode()


def test_a_home_without_an_address_stays_in_like_any_other(village):
    now = timezone.now()
    with freeze_time(now):
        phone = come_in(village, "")
    for days in range(13, 90, 13):
        with freeze_time(now + dt.timedelta(days=days)):
            assert is_in(phone)


def test_a_second_phone_comes_in_by_a_new_slip_and_sees_the_same_home(village):
    first, second = come_in(village, ""), come_in(village, "")
    assert is_in(first)
    assert is_in(second)
    homes = Guardianship.objects.current().filter(child=village.ben, adult__name="Kit")
    assert {tie.home for tie in homes} == {village.bens_home}


def test_a_lost_phone_is_shut_out_and_a_new_slip_lets_the_next_one_in(village, signed_in):
    lost = come_in(village, "")
    tie = Guardianship.objects.current().get(child=village.ben, adult__name="Kit")
    signed_in("office").post(reverse("people:guardianship-end", args=[tie.pk]))
    card = reverse("tasks:today")
    assert village.ben.first_name not in lost.get(card).content.decode()
    found = come_in(village, "")
    assert village.ben.first_name in found.get(card).content.decode()


def test_whoever_has_no_address_adds_one_after_a_slip_and_not_from_a_phone_left_lying(village):
    now = timezone.now()
    with freeze_time(now):
        phone = come_in(village, "")
    with freeze_time(now + dt.timedelta(hours=1)):
        page = phone.get(reverse("people:address"), follow=True)
        assert page.redirect_chain[-1][0] == reverse("people:again")
        assert reverse("people:come-in") in page.content.decode()
        phone.post(reverse("people:again"))
        assert not mail.outbox
        answer = phone.post(
            reverse("people:come-in"), {"slip": slip_for(village), "name": "Kit", "email": ""}
        )
        assert answer["Location"] == reverse("people:address")
        assert phone.get(reverse("people:address")).status_code == 200


def test_a_slip_of_another_home_is_no_proof_of_who_somebody_is(village):
    now = timezone.now()
    with freeze_time(now):
        phone = come_in(village, "")
    with freeze_time(now + dt.timedelta(hours=1)):
        slip = Invitation.issue(village.aisha, village.second_home, village.people["office"])
        phone.post(reverse("people:come-in"), {"slip": slip, "name": "Kit", "email": ""})
        assert phone.get(reverse("people:address"))["Location"] == reverse("people:again")


def test_signing_out_twice_is_no_trouble_and_leaves_the_mark_of_nobody():
    client = Client()
    client.post(reverse("people:sign-out"))
    assert None not in client.session.get(BEEN, [])

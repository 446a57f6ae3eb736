"""Coming in by code, slip and password."""

import datetime as dt
import re

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from portal.people.jobs import mail_sign_in_code, send_waiting_codes
from portal.people.models import Guardianship, Invitation, SignInCode, User
from tests.village import PASSWORD

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


@pytest.fixture
def confirmed(village):
    """Give the family's adult, whose address is confirmed."""
    user = village.people["family"]
    user.email_confirmed_at = timezone.now()
    user.save()
    return user


def ask(client: Client, email: str) -> None:
    client.post(reverse("people:sign-in"), {"email": email})
    send_waiting_codes()


def mailed_digits() -> str:
    return re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1]


def type_code(client: Client, digits: str):
    return client.post(reverse("people:code"), {"code": digits})


def is_in(client: Client) -> bool:
    return "_auth_user_id" in client.session


def test_a_family_comes_in_with_the_code_from_the_mail(confirmed, client):
    ask(client, confirmed.email.upper())
    assert type_code(client, mailed_digits()).status_code == 302
    assert is_in(client)


def test_the_mail_says_no_code_in_its_subject_and_names_no_child(confirmed, village, client):
    ask(client, confirmed.email)
    message = mail.outbox[-1]
    assert not re.search(r"\d", message.subject)
    assert village.aisha.first_name not in message.subject + message.body


def test_a_code_works_once(confirmed, client):
    ask(client, confirmed.email)
    digits = mailed_digits()
    type_code(client, digits)
    client.post(reverse("people:sign-out"))
    ask_page = client.session.get("sign-in address")
    type_code(client, digits)
    assert ask_page is None
    assert not is_in(client)


def test_a_code_dies_after_ten_minutes(confirmed, client):
    now = timezone.now()
    with freeze_time(now):
        ask(client, confirmed.email)
    with freeze_time(now + dt.timedelta(minutes=10, seconds=1)):
        type_code(client, mailed_digits())
        assert not is_in(client)


def test_a_code_is_of_no_use_in_another_browser(confirmed, client):
    thief = Client()
    thief.post(reverse("people:sign-in"), {"email": confirmed.email})
    ask(client, confirmed.email)
    type_code(thief, mailed_digits())
    assert not is_in(thief)


def test_after_five_wrong_tries_the_right_code_is_dead(confirmed, client):
    ask(client, confirmed.email)
    digits = mailed_digits()
    wrong = "000000" if digits != "000000" else "000001"
    for _try in range(5):
        type_code(client, wrong)
    type_code(client, digits)
    assert not is_in(client)


def test_an_unknown_address_gets_the_same_answer_and_no_mail(confirmed, client):
    known = client.post(reverse("people:sign-in"), {"email": confirmed.email})
    unknown = client.post(reverse("people:sign-in"), {"email": "nobody@example.org"})
    mail.outbox.clear()
    SignInCode.objects.all().delete()
    send_waiting_codes()
    assert (known.status_code, known["Location"]) == (unknown.status_code, unknown["Location"])
    assert not mail.outbox


def test_staff_get_no_code_by_mail(village, client):
    ask(client, village.people["teacher"].email)
    assert not mail.outbox


def test_a_job_delivered_twice_mails_one_code(confirmed, client):
    client.post(reverse("people:sign-in"), {"email": confirmed.email})
    pk = SignInCode.objects.get().pk
    mail_sign_in_code(pk)
    mail_sign_in_code(pk)
    assert len(mail.outbox) == 1


def test_no_code_is_kept_in_the_database_as_it_was_mailed(confirmed, client):
    ask(client, confirmed.email)
    row = SignInCode.objects.get()
    assert mailed_digits() not in f"{row.code_hash}{row.browser_hash}"


def test_staff_come_in_by_password(village, client):
    typed = {"email": "Teacher@Example.org", "password": PASSWORD}
    client.post(reverse("people:staff-sign-in"), typed)
    assert is_in(client)


def test_a_wrong_password_is_told_without_saying_which_was_wrong(village, client):
    known = client.post(
        reverse("people:staff-sign-in"), {"email": "teacher@example.org", "password": "wrong"}
    )
    unknown = client.post(
        reverse("people:staff-sign-in"), {"email": "nobody@example.org", "password": "wrong"}
    )
    assert known.context["form"].non_field_errors() == unknown.context["form"].non_field_errors()
    assert not is_in(client)


def come_in(client: Client, slip: str, email: str = "new@example.org"):
    typed = {"slip": slip, "name": "Sam", "email": email}
    return client.post(reverse("people:come-in"), typed)


def slip_for(village) -> str:
    return Invitation.issue(village.ben, village.bens_home, village.people["office"])


def test_a_slip_makes_its_holder_an_adult_at_home_of_that_child_only(village, client):
    come_in(client, slip_for(village).lower().replace("-", " "))
    adult = User.objects.get(email="new@example.org")
    assert is_in(client)
    assert [each.child for each in adult.guardianships.all()] == [village.ben]


def test_a_slip_works_once(village, client):
    slip = slip_for(village)
    come_in(client, slip)
    come_in(Client(), slip, "second@example.org")
    assert not User.objects.filter(email="second@example.org").exists()


def test_a_slip_dies_after_fourteen_days(village, client):
    now = timezone.now()
    with freeze_time(now):
        slip = slip_for(village)
    with freeze_time(now + dt.timedelta(days=14, seconds=1)):
        come_in(client, slip)
    assert not is_in(client)


def test_a_revoked_slip_opens_nothing(village, signed_in, client):
    slip = slip_for(village)
    signed_in("office").post(reverse("people:revoke", args=[village.ben.pk]))
    come_in(client, slip)
    assert not is_in(client)


def test_a_slip_does_not_open_somebody_elses_account(confirmed, village, client):
    come_in(client, slip_for(village), "family@example.org")
    assert not is_in(client)
    assert not Guardianship.objects.filter(
        adult=village.people["family"], child=village.ben
    ).exists()


def test_an_adult_who_is_signed_in_adds_a_second_child_by_slip(village, signed_in):
    family = signed_in("family")
    come_in(family, slip_for(village), "ignored@example.org")
    assert village.people["family"].guardianships.filter(child=village.ben).exists()


def test_an_address_that_was_never_confirmed_gets_no_code(village, client):
    come_in(client, slip_for(village))
    mail.outbox.clear()
    ask(Client(), "new@example.org")
    assert not mail.outbox


def test_confirming_the_address_lets_a_slip_holder_come_back(village, client):
    come_in(client, slip_for(village))
    client.post(reverse("people:confirm"))
    send_waiting_codes()
    type_code(client, mailed_digits())
    again = Client()
    ask(again, "new@example.org")
    type_code(again, mailed_digits())
    assert is_in(again)


def test_a_teacher_makes_no_slips(village, signed_in):
    answer = signed_in("teacher").post(reverse("people:invite", args=[village.ben.pk]))
    assert answer.status_code == 404
    assert not Invitation.objects.exists()


def test_a_printed_slip_carries_its_code_where_no_server_sees_it(village, signed_in):
    page = signed_in("office").post(reverse("people:invite", args=[village.ben.pk]))
    assert page.status_code == 200
    assert b"<svg" in page.content
    assert "?" not in page.context["slips"][0].page
    assert "#" not in page.context["slips"][0].page


def test_a_leaver_is_out_on_the_next_request(village, signed_in):
    teacher = signed_in("teacher")
    village.people["teacher"].posts.update(ended_at=timezone.now())
    page = teacher.get(reverse("people:classes"))
    assert village.robins.name not in page.content.decode()

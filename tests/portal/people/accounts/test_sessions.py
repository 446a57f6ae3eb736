"""How long one stays signed in, on which devices, and what asks for proof anew."""

import datetime as dt
import re

import pytest
from django.contrib.sessions.models import Session
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from evidence.models import Submission
from portal.people.jobs import forget, send_waiting_codes, send_waiting_invitations
from portal.people.models import AddressNotice, Device, User
from tests.evidence.builders import form, jpeg, make_plan, send_address, upload
from tests.village import PASSWORD

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
NOW = dt.datetime(2026, 11, 25, 9, 0, tzinfo=dt.UTC)
PHONE = "Mozilla/5.0 (Linux; Android 14) Mobile"


def at(**later):
    """Give the clock set so much later than the start."""
    return freeze_time(NOW + dt.timedelta(**later))


def staff_in(client: Client | None = None, **more) -> Client:
    client = client or Client()
    typed = {"email": "teacher@example.org", "password": PASSWORD}
    client.post(reverse("people:staff-sign-in"), typed, **more)
    return client


def family_in(village, **more) -> Client:
    client = Client()
    client.force_login(village.people["family"])
    client.get(reverse("tasks:today"), **more)
    return client


def is_in(client: Client) -> bool:
    return client.get(reverse("people:account")).status_code == 200


def test_staff_who_are_away_for_half_an_hour_sign_in_again(village):
    with at():
        teacher = staff_in()
    with at(minutes=29):
        assert is_in(teacher)
    with at(minutes=29 + 31):
        page = teacher.get(reverse("people:account"))
    assert page["Location"].startswith(reverse("people:staff-sign-in"))


def test_staff_sign_in_again_after_twelve_hours_however_busy(village):
    with at():
        teacher = staff_in()
    for minutes in range(20, 12 * 60, 20):
        with at(minutes=minutes):
            assert is_in(teacher)
    with at(hours=12, minutes=1):
        assert not is_in(teacher)


def test_a_family_stays_in_for_a_fortnight_away_and_ninety_days_in_all(village):
    with at():
        family = family_in(village)
    for days in range(13, 90, 13):
        with at(days=days):
            assert is_in(family)
    with at(days=90, hours=2):
        assert not is_in(family)


def test_a_family_away_for_longer_than_a_fortnight_signs_in_again(village):
    with at():
        family = family_in(village)
    with at(days=14, hours=2):
        assert not is_in(family)


def test_what_a_family_is_sending_as_its_time_runs_out_is_still_taken(village):
    with at():
        family = family_in(village)
    for days in range(13, 90, 13):
        with at(days=days):
            is_in(family)
    plan = make_plan(village.robins, (NOW + dt.timedelta(days=90)).date())
    plan.goes_out_at = NOW
    plan.save()
    where, typed = send_address(village.aisha, plan.date), form(upload(jpeg()), note="Still here")
    with at(days=90, minutes=30):
        assert family.post(where, typed).url.startswith("/sent/")
        assert Submission.objects.get().note == "Still here"
    with at(days=90, hours=3):
        again = family.post(where, {**typed, "form_key": "b" * 24, "pieces": upload(jpeg())})
        assert again.url == reverse("people:sign-in")
        assert Submission.objects.count() == 1


def test_the_page_that_was_asked_for_opens_after_signing_in_again(village):
    page = reverse("people:account")
    with at():
        teacher = staff_in()
    with at(hours=1):
        door = teacher.get(page)["Location"]
        teacher.get(door)
        typed = {"email": "teacher@example.org", "password": PASSWORD}
        assert teacher.post(reverse("people:staff-sign-in"), typed)["Location"] == page


def test_a_part_of_a_page_leads_the_whole_page_to_the_door(village):
    with at():
        teacher = staff_in()
    with at(hours=1):
        part = teacher.get(reverse("people:account"), headers={"HX-Request": "true"})
    assert part.status_code == 204
    assert "next=" in part["HX-Redirect"]


def test_a_page_that_asks_by_itself_keeps_nobody_in(village):
    with at():
        teacher = staff_in()
        missing = reverse("evidence:piece-state", args=["none"])
    for minutes in range(5, 30, 5):
        with at(minutes=minutes):
            teacher.get(missing)
    with at(minutes=31):
        assert not is_in(teacher)


def test_the_session_has_a_new_id_after_signing_in_and_the_old_one_is_dead(village, client):
    client.get(reverse("people:sign-in"), {"next": "/account/"})
    before = client.session.session_key
    staff_in(client)
    assert client.session.session_key != before
    thief = Client()
    thief.cookies["session"] = before
    assert not is_in(thief)


def test_each_device_is_listed_by_what_it_is_and_since_when(village):
    family_in(village, headers={"User-Agent": PHONE})
    other = family_in(village)
    page = other.get(reverse("people:account")).content.decode()
    assert "Android phone or tablet" in page
    assert "another device" in page
    assert PHONE not in page
    assert Device.objects.count() == 2


def test_a_device_is_named_in_the_language_that_is_read_now(village):
    client = family_in(village, headers={"User-Agent": PHONE})
    client.post(reverse("people:language"), {"language": "pl", "next": "/account/"})
    page = client.get(reverse("people:account")).content.decode()
    assert "telefon lub tablet z systemem Android" in page


def test_one_device_is_ended_and_the_others_stay(village):
    phone, desk = family_in(village, headers={"User-Agent": PHONE}), family_in(village)
    device = Device.objects.get(label__startswith="Android")
    desk.post(reverse("people:device-end", args=[device.pk]))
    assert not is_in(phone)
    assert is_in(desk)


def test_all_other_devices_are_ended_at_once(village):
    others, desk = [family_in(village) for _each in range(3)], family_in(village)
    desk.post(reverse("people:devices-end"))
    assert not any(is_in(other) for other in others)
    assert is_in(desk)


def test_nobody_ends_a_device_of_somebody_else(village, signed_in):
    phone = family_in(village)
    strange = signed_in("second home")
    page = strange.post(reverse("people:device-end", args=[Device.objects.get().pk]))
    assert page.status_code == 404
    assert is_in(phone)


def test_signing_out_ends_the_session_and_clears_the_browser(village):
    family = family_in(village)
    key = family.session.session_key
    page = family.post(reverse("people:sign-out"))
    assert "storage" in page["Clear-Site-Data"]
    assert not Session.objects.filter(session_key=key).exists()
    assert not Device.objects.exists()


def test_a_disabled_account_is_out_on_the_next_request(village):
    family = family_in(village)
    User.objects.filter(pk=village.people["family"].pk).update(is_active=False)
    assert not is_in(family)


def test_devices_whose_session_ran_out_are_forgotten(village):
    with at():
        family_in(village)
    with at(days=15):
        forget()
        assert not Device.objects.exists()


def change_address(client: Client, email: str) -> str:
    """Ask for another address, and give the digits mailed there."""
    mail.outbox.clear()
    client.post(reverse("people:address"), {"email": email})
    send_waiting_codes()
    return re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1] if mail.outbox else ""


def test_changing_the_address_asks_for_proof_anew(village):
    with at():
        teacher = staff_in()
        assert teacher.get(reverse("people:address")).status_code == 200
    with at(minutes=11):
        page = teacher.get(reverse("people:address"))
        assert page["Location"] == reverse("people:again")
        again = teacher.post(reverse("people:again"), {"password": PASSWORD})
        assert again["Location"] == reverse("people:address")


def test_a_wrong_password_is_no_proof(village):
    with at():
        teacher = staff_in()
    with at(minutes=11):
        teacher.post(reverse("people:again"), {"password": "wrong password"})
        assert teacher.get(reverse("people:address")).status_code == 302


def test_a_family_proves_itself_by_a_code_and_is_led_back(village):
    user = village.people["family"]
    user.email_confirmed_at = timezone.now()
    user.save()
    family = family_in(village)
    family.get(reverse("people:address"))
    family.post(reverse("people:again"))
    send_waiting_codes()
    digits = re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1]
    back = family.post(reverse("people:code"), {"code": digits})
    assert back["Location"] == reverse("people:address")
    assert family.get(reverse("people:address")).status_code == 200


def test_an_address_changes_when_the_new_one_is_proved_and_the_old_one_is_told(village):
    teacher, other = staff_in(), staff_in()
    digits = change_address(teacher, "New@Example.org")
    assert mail.outbox[-1].to == ["new@example.org"]
    teacher.post(reverse("people:address-code"), {"code": digits})
    user = User.objects.get(pk=village.people["teacher"].pk)
    assert user.email == "new@example.org"
    send_waiting_invitations()
    assert mail.outbox[-1].to == ["teacher@example.org"]
    assert is_in(teacher)
    assert not is_in(other)


def test_the_old_address_is_told_as_soon_as_the_mail_server_is_back(village, monkeypatch):
    teacher = staff_in()
    digits = change_address(teacher, "new@example.org")
    teacher.post(reverse("people:address-code"), {"code": digits})

    def fail(*_arguments: object) -> None:
        raise ConnectionRefusedError

    with monkeypatch.context() as away:
        away.setattr(EmailBackend, "send_messages", fail)
        send_waiting_invitations()
    assert User.objects.filter(email="new@example.org").exists()
    assert mail.outbox[-1].to == ["new@example.org"]
    with freeze_time(timezone.now() + dt.timedelta(minutes=2)):
        send_waiting_invitations()
    assert mail.outbox[-1].to == ["teacher@example.org"]
    forget()
    assert not AddressNotice.objects.exists()


def test_an_address_that_is_taken_gets_no_mail_and_no_word(village):
    teacher = staff_in()
    assert change_address(teacher, "lead@example.org") == ""
    page = teacher.get(reverse("people:address-code"))
    assert page.status_code == 200


def test_a_code_for_an_address_signs_nobody_in(village):
    teacher = staff_in()
    digits = change_address(teacher, "new@example.org")
    teacher.post(reverse("people:code"), {"code": digits})
    assert User.objects.filter(email="teacher@example.org").exists()


def test_a_new_password_signs_out_everywhere_else(village):
    teacher, other = staff_in(), staff_in()
    new = "another kitchen password"
    teacher.post(reverse("people:password"), {"new_password1": new, "new_password2": new})
    assert is_in(teacher)
    assert not is_in(other)


@pytest.mark.parametrize("weak", ["short", "password1234", "teacher@example", "123456789012"])
def test_a_weak_password_is_refused(village, weak):
    teacher = staff_in()
    page = teacher.post(reverse("people:password"), {"new_password1": weak, "new_password2": weak})
    assert page.context["form"].errors


def test_no_page_sets_a_cookie_besides_session_and_csrf(village):
    client = staff_in()
    client.get(reverse("people:account"))
    client.post(reverse("people:sign-out"))
    client.get(reverse("people:sign-in"))
    assert set(client.cookies) <= {"session", "csrf"}


def test_who_says_that_they_are_still_there_stays_in(village):
    with at():
        teacher = staff_in()
    with at(minutes=29):
        assert teacher.post(reverse("people:stay")).status_code == 204
    with at(minutes=55):
        assert is_in(teacher)


def test_staff_are_asked_two_minutes_before_their_time_is_over(village):
    page = staff_in().get(reverse("people:classes"), follow=True).content.decode()
    assert 'data-stay="30"' in page

"""Staff who forgot their password have a link mailed, and nobody learns who works here."""

import datetime as dt
import re
import statistics
import time

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from django_otp.plugins.otp_totp.models import TOTPDevice
from freezegun import freeze_time

from portal.people.accounts import second_step
from portal.people.jobs import send_waiting_invitations
from portal.people.models import Event, SignInAttempt
from tests.portal.people.accounts.test_staff import is_in, mailed_link, set_password, sign_in
from tests.portal.people.proof import freshen
from tests.village import PASSWORD

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
NEW = "a brand new kitchen password"


def ask(email: str, client: Client | None = None):
    """Say that *email* has forgotten the password."""
    return (client or Client()).post(reverse("people:forgotten"), {"email": email})


def asked(email: str = "teacher@example.org") -> str:
    """Ask, and give the link that was mailed."""
    ask(email)
    send_waiting_invitations()
    return mailed_link()


def words(answer) -> tuple[int, str]:
    """Return status and page of *answer*, but for the token that each page has of its own."""
    return answer.status_code, re.sub(r'"\w{64}"', "", answer.content.decode())


def test_the_mailed_link_sets_a_new_password_once(village):
    link = asked("Teacher@Example.org ")
    set_password(link)
    assert is_in(sign_in("teacher@example.org", NEW))
    set_password(link, "another kitchen password")
    assert not is_in(sign_in("teacher@example.org", "another kitchen password"))


def test_until_it_is_set_the_old_password_holds_and_then_everybody_else_is_out(village):
    before = sign_in("teacher@example.org", PASSWORD)
    link = asked()
    assert is_in(before)
    set_password(link)
    assert not is_in(before)
    assert not is_in(sign_in("teacher@example.org", PASSWORD))
    assert Event.objects.filter(what=Event.What.PASSWORD_SET).count() == 1


def test_the_link_is_dead_after_an_hour_and_that_of_a_lead_is_not(village, signed_in):
    with freeze_time(timezone.now() - dt.timedelta(minutes=61)):
        old = asked()
        freshen(signed_in("lead")).post(
            reverse("people:staff-link", args=[village.people["assistant"].posts.get().pk])
        )
        send_waiting_invitations()
        from_lead = mailed_link()
    set_password(old)
    assert not is_in(sign_in("teacher@example.org", NEW))
    set_password(from_lead)
    assert is_in(sign_in("assistant@example.org", NEW))


def test_the_second_step_is_asked_for_all_the_same(village):
    TOTPDevice.objects.create(user=village.people["teacher"], name="app")
    set_password(asked())
    teacher = sign_in("teacher@example.org", NEW)
    page = teacher.get(reverse("people:classes"))
    assert page["Location"] == reverse("people:second-step")
    assert second_step.has_second_step(village.people["teacher"])


@pytest.mark.parametrize("who", ["nobody@example.org", "family@example.org", "gone@example.org"])
def test_who_does_not_work_here_gets_the_same_answer_and_no_mail(village, who):
    gone = village.people["other teacher"]
    gone.email = "gone@example.org"
    gone.save()
    gone.posts.update(ended_at=timezone.now())
    known, unknown = words(ask("teacher@example.org")), words(ask(who))
    assert known == unknown
    send_waiting_invitations()
    assert [to for sent in mail.outbox for to in sent.to] == ["teacher@example.org"]


def test_asking_takes_as_long_for_an_unknown_address_as_for_a_known_one(village):
    client, taken = Client(), {"teacher@example.org": [], "nobody@example.org": []}
    for _round in range(60):
        for email, times in taken.items():
            SignInAttempt.objects.all().delete()  # The limit is not what is timed.
            start = time.perf_counter()
            assert ask(email, client).status_code == 200
            times.append(time.perf_counter() - start)
    known, unknown = (statistics.median(times) for times in taken.values())
    assert abs(known - unknown) < max(0.010, 0.3 * known)


def test_one_address_is_not_mailed_more_often_than_three_times_in_a_quarter_of_an_hour(village):
    client = Client()
    asked = [ask("teacher@example.org", client).status_code for _n in range(4)]
    assert asked == [200, 200, 200, 429]


def test_the_mail_names_no_school_and_the_page_is_one_click_from_signing_in(village):
    asked()
    sent = mail.outbox[-1]
    assert village.school.name not in sent.subject + sent.body
    assert (
        reverse("people:forgotten")
        in Client().get(reverse("people:staff-sign-in")).content.decode()
    )

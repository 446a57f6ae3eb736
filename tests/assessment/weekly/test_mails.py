"""The weekly mail: once, to those who want it, and saying nothing of anybody."""

import datetime as dt
import logging
import smtplib
from unittest import mock

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.test import Client
from django.utils import timezone
from freezegun import freeze_time

from assessment.jobs import send_waiting_mails
from assessment.models import SummaryMail
from assessment.weekly.mails import STOP, waiting
from assessment.weekly.summaries import make_due
from portal.people.models import Guardianship, Home, StaffPost, User
from tests.assessment.builders import looked, send, set_day

FRIDAY_1530 = dt.datetime(2026, 11, 27, 15, 30, tzinfo=dt.UTC)
CANARIES = ("Aisha", "Ben", "Cal", "Harbour", "Robins", "Halving", "halv", "canary")


@pytest.fixture
def ready(village):
    """Roll a week up, and stop the clock there: four mails wait."""
    with freeze_time(FRIDAY_1530) as clock:
        User.objects.update(email_confirmed_at=FRIDAY_1530)
        work = send(village.aisha, village.first_home, set_day(village.robins), note="canary note")
        looked(work, village.people["teacher"], reply="canary reply")
        make_due(FRIDAY_1530)
        SummaryMail.objects.exclude(summary__school_class=village.robins).delete()
        village.clock = clock
        yield village


def to(outbox):
    """Give whom the mails went to, in order of the alphabet."""
    return sorted(message.to[0].split("@")[0] for message in outbox)


def test_each_mail_is_sent_once_however_often_the_job_runs(ready, mailoutbox):
    for _time in range(3):
        send_waiting_mails()
    assert to(mailoutbox) == ["family", "other-family", "second-home", "teacher"]


def test_of_two_workers_one_gets_the_mail(ready):
    pk = waiting(timezone.now()).next_key()
    claimed = [SummaryMail.objects.claim(pk) for _worker in range(2)]
    assert [mail is not None for mail in claimed] == [True, False]


def test_no_name_school_or_work_stands_in_a_mail(ready, mailoutbox):
    send_waiting_mails()
    for message in mailoutbox:
        raw = message.message().as_string()
        for canary in CANARIES:
            assert canary not in raw, canary


def test_a_mail_leads_to_the_week_and_holds_no_picture_and_no_page(ready, mailoutbox):
    send_waiting_mails()
    by_name = {message.to[0].split("@")[0]: message for message in mailoutbox}
    assert "http://localhost:8000/weeks/2026-W48/" in by_name["family"].body
    page = f"/classes/{ready.robins.pk}/weeks/2026-W48/"
    assert f"http://localhost:8000{page}" in by_name["teacher"].body
    for message in mailoutbox:
        assert message.message().get_content_type() == "text/plain"


def test_a_familys_mail_can_be_stopped_by_one_click(ready, mailoutbox):
    send_waiting_mails()
    message = next(each for each in mailoutbox if each.to == ["family@example.org"])
    headers = message.message()
    address = f"http://localhost:8000/mail/stop/{STOP.token(ready.first_home.pk)}/"
    assert headers["List-Unsubscribe"] == f"<{address}>"
    assert headers["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"


def test_the_message_id_is_the_same_at_every_attempt(ready):
    seen = []

    def refuse(_backend, messages):
        seen.extend(message.message()["Message-ID"] for message in messages)
        raise smtplib.SMTPServerDisconnected("no")

    with mock.patch.object(EmailBackend, "send_messages", refuse):
        send_waiting_mails()
        ready.clock.tick(dt.timedelta(minutes=11))
        send_waiting_mails()
    assert len(seen) == 8
    assert len(set(seen)) == 4


def test_a_mail_that_was_refused_is_tried_again_later_and_five_times_at_most(ready, mailoutbox):
    tries = []

    def refuse(_backend, messages):
        tries.extend(messages)
        raise smtplib.SMTPRecipientsRefused({})

    SummaryMail.objects.exclude(recipient=ready.people["family"]).delete()
    with mock.patch.object(EmailBackend, "send_messages", refuse):
        send_waiting_mails()
        send_waiting_mails()
        assert len(tries) == 1
        for _hour in range(24 * 6):
            ready.clock.tick(dt.timedelta(hours=1))
            send_waiting_mails()
    assert len(tries) == 5
    assert not waiting(timezone.now()).exists()


def test_a_mail_server_that_was_away_for_a_day_costs_no_mail(ready, mailoutbox):
    def away(_backend):
        raise ConnectionRefusedError

    with mock.patch.object(EmailBackend, "open", away):
        for _quarter in range(4 * 24):
            send_waiting_mails()
            ready.clock.tick(dt.timedelta(minutes=15))
    send_waiting_mails()
    assert len(mailoutbox) == 4
    assert set(SummaryMail.objects.values_list("attempts", flat=True)) == {1}


def test_one_refused_address_does_not_keep_the_others_waiting(ready, mailoutbox):
    deliver = EmailBackend.send_messages

    def refuse_one(backend, messages):
        if messages[0].to == ["family@example.org"]:
            raise smtplib.SMTPRecipientsRefused({})
        return deliver(backend, messages)

    with mock.patch.object(EmailBackend, "send_messages", refuse_one):
        send_waiting_mails()
    assert to(mailoutbox) == ["other-family", "second-home", "teacher"]


def test_the_log_holds_no_address_of_anybody(ready, caplog):
    def refuse(_backend, messages):
        raise smtplib.SMTPRecipientsRefused({messages[0].to[0]: (550, b"family@example.org?")})

    with caplog.at_level(logging.INFO), mock.patch.object(EmailBackend, "send_messages", refuse):
        send_waiting_mails()
    assert "SMTPRecipientsRefused" in caplog.text
    assert "@" not in caplog.text


def test_a_mail_a_week_old_is_news_of_long_ago_and_not_sent(ready, mailoutbox):
    ready.clock.tick(dt.timedelta(days=7))
    send_waiting_mails()
    assert mailoutbox == []


def unconfirmed(village):
    """Take the word back that the family's address is its own."""
    User.objects.filter(name="Family").update(email_confirmed_at=None)


def left(village):
    """Let the family be at home with Aisha no longer."""
    Guardianship.objects.filter(adult=village.people["family"]).update(ended_at=FRIDAY_1530)


def stopped(village):
    """Let the home want no mail."""
    Home.objects.filter(pk=village.first_home.pk).update(wants_mail=False)


def closed(village):
    """Close the family's account."""
    User.objects.filter(name="Family").update(is_active=False)


@pytest.mark.parametrize("happened", [unconfirmed, left, stopped, closed])
def test_who_may_not_have_the_mail_any_more_gets_none(ready, mailoutbox, happened):
    happened(ready)
    send_waiting_mails()
    assert to(mailoutbox) == ["other-family", "second-home", "teacher"]


def test_a_teacher_who_left_gets_none(ready, mailoutbox):
    StaffPost.objects.filter(user=ready.people["teacher"]).update(ended_at=FRIDAY_1530)
    send_waiting_mails()
    assert "teacher" not in to(mailoutbox)


def stop_page(village):
    """Give the address at which the first home's mail is stopped."""
    return f"/mail/stop/{STOP.token(village.first_home.pk)}/"


def wants_mail(village):
    """Whether the first home wants the weekly mail."""
    return Home.objects.get(pk=village.first_home.pk).wants_mail


def test_opening_the_link_stops_nothing(village):
    answer = Client().get(stop_page(village))
    assert answer.status_code == 200
    assert "Stop the weekly mail" in answer.content.decode()
    assert wants_mail(village)


def test_one_click_stops_it_without_sign_in_and_twice_does_no_harm(village):
    client = Client(enforce_csrf_checks=True)
    for _time in range(2):
        answer = client.post(stop_page(village), {"List-Unsubscribe": "One-Click"})
        assert answer.status_code == 200
        assert not wants_mail(village)


def test_it_can_be_started_again(village):
    Home.objects.filter(pk=village.first_home.pk).update(wants_mail=False)
    Client().post(stop_page(village), {"start": "1"})
    assert wants_mail(village)


def test_the_page_says_nothing_of_whom_it_is_about(village):
    html = Client().post(stop_page(village)).content.decode()
    for canary in (*CANARIES, "family@example.org"):
        assert canary not in html


@pytest.mark.parametrize("token", ["1", "1:x", "nonsense", "1:" + "A" * 43])
def test_a_made_up_token_is_not_there(village, token):
    assert Client().post(f"/mail/stop/{token}/").status_code == 404


def test_one_homes_token_does_not_stop_another_homes_mail(village):
    signature = STOP.token(village.first_home.pk).split(":")[1]
    answer = Client().post(f"/mail/stop/{village.second_home.pk}:{signature}/")
    assert answer.status_code == 404
    assert Home.objects.get(pk=village.second_home.pk).wants_mail


def test_nothing_goes_out_while_nothing_waits(village):
    with mock.patch.object(EmailBackend, "open") as opened:
        send_waiting_mails()
    assert not opened.called
    assert mail.outbox == []

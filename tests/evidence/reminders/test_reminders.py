"""Reminders: only where chosen, at most one a day, when there is work to do; easily stopped."""

import datetime as dt
import re
from concurrent.futures import ThreadPoolExecutor
from urllib.parse import unquote

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.db import close_old_connections
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from evidence.models import Submission
from evidence.reminders.choices import PushPlace, Reminder
from evidence.reminders.due import due
from evidence.reminders.sending import STOP, send_due
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.people.models import Closure, Group
from tasks.models import Task
from tests.evidence.builders import at_once, make_plan
from tests.evidence.reminders.reminded import chosen, mailed
from tests.reading_age import grade
from tests.village import MONDAY

PAGE = "/reminders/"


@pytest.fixture(autouse=True)
def monday_at_four():
    """Let it be Monday, four in the afternoon."""
    with freeze_time("2026-11-23 16:00"):
        yield


def test_nobody_is_reminded_who_did_not_choose_it(village, service):
    make_plan(village.robins)

    assert mailed() == []
    assert service.taken == []
    assert not Reminder.objects.exists()


def test_who_chose_it_is_reminded_at_that_hour_by_the_schools_clock(village):
    make_plan(village.robins)
    chosen(village)
    with freeze_time("2026-11-23 15:59"):
        assert mailed() == []
    assert mailed() == ["family@example.org"]

    village.school.time_zone = "Europe/Athens"  # There it is six by now.
    village.school.save()
    Reminder.objects.update(last_day=None, hour=18)
    assert len(mailed()) == 2


def test_a_reminder_that_was_missed_is_made_up_for_within_two_hours_and_no_later(village):
    make_plan(village.robins)
    chosen(village)
    with freeze_time("2026-11-23 18:00"):
        assert mailed() == []
    with freeze_time("2026-11-23 17:59"):
        assert len(mailed()) == 1


def test_at_most_one_goes_out_a_day_and_the_next_day_another(village):
    make_plan(village.robins)
    chosen(village)
    assert len(mailed()) == 1
    Reminder.objects.update(hour=17)
    with freeze_time("2026-11-23 17:00"):
        assert len(mailed()) == 1
    make_plan(village.robins, MONDAY + dt.timedelta(days=1))
    with freeze_time("2026-11-24 17:00"):
        assert len(mailed()) == 2


def test_no_reminder_without_work_for_the_day(village):
    chosen(village)
    assert mailed() == []
    plan = make_plan(village.robins)
    plan.goes_out_at = timezone.now() + dt.timedelta(hours=1)
    plan.save()
    assert mailed() == []


def test_no_reminder_for_work_that_another_group_was_set(village):
    plan = make_plan(village.robins)
    Task.objects.filter(day_plan=plan).update(group=village.bens_group)
    chosen(village)
    chosen(village, "other family")

    assert mailed() == ["other-family@example.org"]
    assert Group.objects.get().children.get() == village.ben


def test_no_reminder_once_work_was_sent_and_none_once_a_home_said_it_could_not(village):
    plan = make_plan(village.robins)
    chosen(village)
    chosen(village, "second home")
    Submission.objects.create(child=village.aisha, home=village.first_home, day_plan=plan)
    Nonsubmission.objects.create(child=village.aisha, home=village.second_home, day_plan=plan)
    assert mailed() == []

    Submission.objects.update(withdrawn_at=timezone.now())
    assert mailed() == ["family@example.org"]


def test_what_another_home_did_changes_nothing(village):
    plan = make_plan(village.robins)
    chosen(village)
    Submission.objects.create(child=village.aisha, home=village.second_home, day_plan=plan)
    assert mailed() == ["family@example.org"]


def test_two_children_with_work_make_one_reminder(village):
    make_plan(village.robins)
    make_plan(village.wrens)
    chosen(village)
    assert mailed() == ["family@example.org"]


@pytest.mark.parametrize("day", [MONDAY + dt.timedelta(days=5), MONDAY])
def test_no_reminder_at_a_weekend_or_in_a_holiday(village, day):
    make_plan(village.robins, day)
    chosen(village)
    Closure.objects.create(school=village.school, name="Half term", first=MONDAY, last=MONDAY)
    with freeze_time(dt.datetime.combine(day, dt.time(16), dt.UTC)):
        assert mailed() == []


def test_nobody_is_mailed_at_an_address_that_is_not_confirmed(village):
    make_plan(village.robins)
    user = chosen(village)
    user.email_confirmed_at = None
    user.save()
    assert mailed() == []


def test_nobody_is_mailed_at_an_address_from_which_mail_came_back(village):
    make_plan(village.robins)
    user, other = chosen(village), chosen(village, "second home")
    user.mail_came_back_at = timezone.now()
    user.save()
    assert mailed() == [other.email]


def test_who_is_no_longer_at_home_with_a_child_is_not_reminded(village):
    make_plan(village.robins)
    user = chosen(village)
    user.guardianships.update(ended_at=timezone.now())
    assert mailed() == []


def test_the_mail_names_no_child_and_can_be_stopped_with_one_press(village, client):
    make_plan(village.robins)
    user = chosen(village)
    mailed()
    (message,) = mail.outbox
    words = f"{message.subject} {message.body}"
    for name in ("Aisha", "Cal", "Robins", "Harbour"):
        assert name not in words
    assert grade(re.sub(r"http\S+", "", message.body)) <= 5

    address = message.extra_headers["List-Unsubscribe"].strip("<>")
    assert message.extra_headers["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    path = unquote("/" + address.split("/", 3)[3])
    client.get(path)
    assert Reminder.objects.filter(adult=user).exists()
    # Source: RFC 8058, section 3.2: the mail program posts just this, without cookies.
    response = client.post(path, {"List-Unsubscribe": "One-Click"})
    assert response.status_code == 200
    assert not Reminder.objects.exists()


def test_a_made_up_link_stops_nobody(client, village):
    chosen(village)
    token = STOP.token(village.people["family"].pk)
    other = f"{village.people['second home'].pk}:{token.split(':', 1)[1]}"
    assert client.post(reverse("evidence:reminders-stop", args=[other])).status_code == 404
    assert Reminder.objects.exists()


@pytest.mark.django_db(transaction=True)
@pytest.mark.servers
def test_two_workers_at_once_send_one_reminder(village, service):
    make_plan(village.robins)
    user = chosen(village)
    PushPlace.keep(user, service.place("kitchen"))
    assert due(timezone.now()) == [(user.pk, MONDAY)]

    def work(_number: int) -> None:
        try:
            send_due()
        finally:
            close_old_connections()

    with ThreadPoolExecutor(at_once()) as workers:
        list(workers.map(work, range(8)))
    assert len(mail.outbox) == 1
    assert len(service.taken) == 1


def test_while_the_mail_server_is_away_nothing_is_lost_and_browsers_are_woken(
    village, service, monkeypatch
):
    make_plan(village.robins)
    chosen(village)
    chosen(village, "second home", by_mail=False)
    PushPlace.keep(village.people["second home"], service.place("kitchen"))

    def away(_self: EmailBackend) -> None:
        raise ConnectionRefusedError

    with monkeypatch.context() as patched:
        patched.setattr(EmailBackend, "open", away)
        assert mailed() == []
    assert len(service.taken) == 1
    assert mailed() == ["family@example.org"]
    assert len(service.taken) == 1


def test_a_family_chooses_mail_and_hour_and_stops_it_again(village, signed_in):
    family = signed_in("family")
    assert "Stop all reminders" not in family.get(PAGE).content.decode()
    family.post(PAGE, {"by_mail": "yes", "hour": "18"})
    kept = Reminder.objects.get()
    assert (kept.hour, kept.by_mail) == (18, True)
    page = family.get(PAGE).content.decode()
    assert '<option value="18" selected>18:00</option>' in page
    assert "Stop all reminders" in page
    family.post("/reminders/off/")
    assert not Reminder.objects.exists()


def test_unticking_mail_keeps_no_row_and_a_night_hour_is_not_taken(village, signed_in):
    family = signed_in("family")
    assert family.post(PAGE, {"by_mail": "yes", "hour": "3"}).status_code == 422
    family.post(PAGE, {"by_mail": "yes", "hour": "18"})
    family.post(PAGE, {"hour": "18"})
    assert not Reminder.objects.exists()


def test_the_page_says_who_passes_a_push_on_before_it_is_chosen(village, signed_in):
    page = signed_in("family").get(PAGE).content.decode()
    for words in ("the firm that made your browser passes it on", "what we send is empty"):
        assert words in page


def test_finding_who_is_due_asks_the_same_of_the_database_however_many_there_are(
    village, django_assert_num_queries
):
    make_plan(village.robins)
    chosen(village)
    with django_assert_num_queries(3):
        assert len(due(timezone.now())) == 1
    chosen(village, "second home")
    chosen(village, "other family")
    with django_assert_num_queries(3):
        assert len(due(timezone.now())) == 3


def test_the_words_of_the_page_are_easy_to_read():
    words = (
        "We remind you only if you choose it here. A reminder comes on a school day with work set, "
        "if you have not sent it and have not said that it could not be done. At most one a day. "
        "It names no child. Your browser can show the reminder. For that, the firm that made your "
        "browser passes it on. It learns that this portal woke your phone, and when. It does not "
        "learn your name, your child or the work: what we send is empty. "
        "It ends when you sign out here."
    )
    assert grade(words) <= 5

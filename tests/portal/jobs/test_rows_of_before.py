"""Rows that were half done when the program was updated go on where they were."""

import datetime as dt
from collections.abc import Callable, Iterator

import pytest
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from assessment.models import SummaryMail, WeekSummary
from evidence.models import PushPlace, Reminder
from portal.data_protection.models import DataExport, PurgeRun
from portal.people.models import Invitation, SignInCode, StaffPost

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.servers]
MINUTE = dt.timedelta(minutes=1)


@pytest.fixture
def before() -> Iterator[Callable]:
    """Return what takes the database back to a migration, and gives a model as it was then."""

    def back_to(app: str, migration: str, model: str):
        executor = MigrationExecutor(connection)
        executor.migrate([(app, migration)])
        return executor.loader.project_state([(app, migration)]).apps.get_model(app, model)

    yield back_to
    update()


def update() -> None:
    call_command("migrate", verbosity=0, interactive=False)


def test_copies_that_wait_are_made_and_those_that_failed_stay_failed(village, before):
    old = before("privacy", "0002_names_of_the_trade", "Copy").objects
    now, child = timezone.now(), {"child_id": village.aisha.pk}
    rows = {
        "waits": old.create(**child),
        "failed": old.create(attempts=3, **child),
        "in hand": old.create(attempts=3, claimed_at=now - MINUTE, **child),
        "made": old.create(attempts=1, claimed_at=now, ready_at=now, **child),
    }
    update()
    copies = {name: DataExport.objects.get(pk=row.pk) for name, row in rows.items()}
    assert {name for name, copy in copies.items() if copy.has_failed} == {"failed"}
    assert {copy.pk for copy in DataExport.objects.to_do()} == {rows["waits"].pk}
    assert copies["in hand"].leased_until == now + 4 * MINUTE


def test_a_night_that_is_done_or_in_hand_is_not_begun_again(village, before):
    old = before("privacy", "0003_copies_are_leased", "PurgeRun").objects
    now, school = timezone.now(), {"school_id": village.school.pk}
    rows = [("done", {"claimed_at": now - MINUTE, "done_at": now}), ("lost", {})]
    rows += [("in hand", {"claimed_at": now}), ("given up", {"claimed_at": now - 61 * MINUTE})]
    days = {name: now.date() + dt.timedelta(days=day) for day, (name, _) in enumerate(rows)}
    for name, fields in rows:
        old.create(date=days[name], **fields, **school)
    update()
    begun = {name for name, day in days.items() if PurgeRun.objects.claim(village.school, day)}
    assert begun == {"lost", "given up"}


def test_mails_of_the_week_wait_as_long_as_they_did_and_none_is_sent_again(village, before):
    old = before("assessment", "0002_what_crashed_its_decoder", "SummaryMail").objects
    now, week = timezone.now(), dt.date(2026, 11, 23)
    summary = WeekSummary.objects.create(
        audience="staff", school_class=village.robins, week=week, figures={}
    )
    rows = {
        "waits": {},
        "sent": {"attempts": 1, "claimed_at": now, "sent_at": now},
        "paused": {"attempts": 2, "claimed_at": now - 59 * MINUTE},
        "due again": {"attempts": 2, "claimed_at": now - 61 * MINUTE},
        "given up": {"attempts": 5, "claimed_at": now - 9999 * MINUTE},
    }
    readers = [person.pk for person in village.people.values()]
    keys = {
        old.create(summary_id=summary.pk, week=week, recipient_id=reader, **fields).pk: name
        for reader, (name, fields) in zip(readers, rows.items(), strict=False)
    }
    update()
    due = {keys[pk] for pk in SummaryMail.objects.to_send().values_list("pk", flat=True)}
    assert due == {"waits", "due again"}
    assert SummaryMail.objects.get(mailed_at__isnull=False).mailed_at == now


def test_invitations_that_wait_are_mailed_and_those_that_were_are_not(village, before):
    old = before("people", "0007_sign_in_attempts", "Invitation").objects
    now = timezone.now()
    rows = {
        "waits": {},
        "mailed": {"mail_claimed_at": now, "mailed_at": now},
        "in hand": {"mail_claimed_at": now - 9 * MINUTE},
        "given up": {"mail_claimed_at": now - 11 * MINUTE},
    }
    about = {"child_id": village.ben.pk, "home_id": village.bens_home.pk}
    keys = {
        old.create(
            email=f"{number}@example.org",
            email_key=str(number),
            expires_at=now + dt.timedelta(days=1),
            **fields,
            **about,
        ).pk: name
        for number, (name, fields) in enumerate(rows.items())
    }
    update()
    due = {keys[pk] for pk in Invitation.objects.to_send().values_list("pk", flat=True)}
    assert due == {"waits", "given up"}


def test_links_of_staff_that_wait_are_mailed_and_those_in_hand_are_left(village, before):
    old = before("people", "0008_invitations_in_the_outbox", "StaffPost").objects
    now = timezone.now()
    rows = {
        "teacher": {"link_wanted_at": now},
        "lead": {"link_wanted_at": now, "link_claimed_at": now},
        "office": {"link_wanted_at": now, "link_claimed_at": now - 11 * MINUTE},
    }
    for person, fields in rows.items():
        old.filter(user_id=village.people[person].pk).update(**fields)
    update()
    due = StaffPost.objects.to_send().values_list("user", flat=True)
    assert set(due) == {village.people["teacher"].pk, village.people["office"].pk}


def test_codes_that_wait_are_mailed_and_those_that_were_are_not(village, before):
    old = before("people", "0010_plain_labels", "SignInCode").objects
    reader, soon = village.people["family"].pk, timezone.now() + 5 * MINUTE
    for browser, mark in (("waits", ""), ("mailed", "a mark")):
        old.create(user_id=reader, browser_hash=browser, code_hash=mark, expires_at=soon)
    update()
    assert [code.browser_hash for code in SignInCode.objects.to_send()] == ["waits"]
    assert SignInCode.objects.get(browser_hash="mailed").mailed_at == soon - 10 * MINUTE


def test_who_was_reminded_today_is_not_reminded_again_and_who_was_not_is(village, before):
    today = timezone.localdate()
    rows = {"family": today, "second home": None, "other family": today - dt.timedelta(days=1)}
    readers = {role: village.people[role].pk for role in rows}
    old = before("evidence", "0004_nonsubmissions", "Reminder").objects
    places = before("evidence", "0004_nonsubmissions", "PushPlace").objects
    for role, last_day in rows.items():
        old.create(adult_id=readers[role], last_day=last_day)
        places.create(adult_id=readers[role], endpoint_hash=role)
    update()
    assert Reminder.objects.get(mailed_at__isnull=False, last_day=today).pk == readers["family"]
    left = {readers["second home"], readers["other family"]}
    assert set(Reminder.objects.not_yet_on(today).values_list("pk", flat=True)) == left
    assert set(PushPlace.objects.not_yet_on(today).values_list("adult", flat=True)) == left

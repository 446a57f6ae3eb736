"""Children not heard from: since when, what came last, who called, and who is awaited."""

import datetime as dt

import pytest
from freezegun import freeze_time

from assessment.models import ContactNote
from assessment.progress.not_heard_from import not_heard_from_in
from portal.people.models import Closure, Home, Invitation
from tests.assessment.builders import at, send, set_day
from tests.village import MONDAY, make_child

FRIDAY_AFTER = MONDAY + dt.timedelta(days=11)  # 4 December 2026


@pytest.fixture(autouse=True)
def days_set(village):
    """Let work be set on each school day of a fortnight, from MONDAY to FRIDAY_AFTER."""
    return [
        set_day(village.robins, MONDAY + dt.timedelta(days=day)) for day in range(12) if day % 7 < 5
    ]


def silent(village, days=5, role="teacher"):
    """Give the first names and school days of those not heard from, by noon of FRIDAY_AFTER."""
    with freeze_time(at(village.robins, FRIDAY_AFTER, dt.time(12))):
        found = not_heard_from_in(village.robins, village.people[role], days).silent
    return [(each.child.first_name, each.days) for each in found]


@pytest.fixture
def sent_on_friday(village, days_set):
    """Let Aisha have sent on Friday 27 November, and Ben on Wednesday the 25th."""
    plan = days_set[0]
    friday, wednesday = (MONDAY + dt.timedelta(days=days) for days in (4, 2))
    send(village.aisha, village.first_home, plan, sent_at=at(village.robins, friday))
    return send(village.ben, village.bens_home, plan, sent_at=at(village.robins, wednesday))


def test_days_set_are_counted_and_neither_weekends_nor_today(village, sent_on_friday):
    # From Aisha nothing on Monday to Thursday: 4; from Ben on Thursday and Friday too: 6.
    assert silent(village, 4) == [("Ben", 6), ("Aisha", 4)]
    assert silent(village, 5) == [("Ben", 6)]


def test_days_on_which_school_was_closed_do_not_count(village, sent_on_friday):
    tuesday = MONDAY + dt.timedelta(days=8)
    Closure.objects.create(school=village.school, name="Training", first=tuesday, last=tuesday)
    assert silent(village, 5) == [("Ben", 5)]
    assert silent(village, 6) == []


def test_a_day_on_which_nothing_was_set_does_not_count(village, sent_on_friday, days_set):
    days_set[-2].delete()
    assert silent(village, 4) == [("Ben", 5)]


def test_a_child_of_whom_nothing_came_counts_from_the_first_day_set(village):
    assert silent(village, 9) == [("Aisha", 9), ("Ben", 9)]


def test_a_home_counts_from_the_first_day_set_after_somebody_came_in(village):
    wednesday = at(village.robins, MONDAY + dt.timedelta(days=9), dt.time(18))
    village.ben.guardianships.update(created_at=wednesday)  # only Thursday is left
    assert silent(village, 1) == [("Aisha", 9), ("Ben", 1)]


def found_at_noon(village):
    """Return what is listed for the lead by noon of FRIDAY_AFTER."""
    with freeze_time(at(village.robins, FRIDAY_AFTER, dt.time(12))):
        return not_heard_from_in(village.robins, village.people["lead"], 5)


def invite_edie(village, day):
    """Bring Edie in with the roster, and invite her home on *day*."""
    edie = make_child(village.robins, "Edie", "L")
    with freeze_time(at(village.robins, day)):
        Invitation.issue(edie, Home.objects.create(school=village.school), village.people["office"])
    return edie


def test_minutes_after_a_roster_was_brought_in_nobody_is_called_silent(village):
    edie = invite_edie(village, FRIDAY_AFTER)
    found = found_at_noon(village)
    assert edie not in [each.child for each in found.silent]
    assert [each.child for each in found.invited] == [edie]
    assert found.on_paper == found.never_came_in == []


def test_an_invitation_that_ran_out_unused_is_neither_silence_nor_paper(village, signed_in):
    edie = invite_edie(village, MONDAY - dt.timedelta(days=7))
    found = found_at_noon(village)
    assert [each.child for each in found.never_came_in] == [edie]
    assert found.invited == found.on_paper == []
    address = f"/classes/{village.robins.pk}/not-heard-from/"
    with freeze_time("2026-12-04 12:00"):
        lead, teacher = (signed_in(role).get(address) for role in ("lead", "teacher"))
    assert f"/children/{edie.pk}/homes/" in lead.content.decode()
    assert f"/children/{edie.pk}/homes/" not in teacher.content.decode()
    assert "The office prints one." in teacher.content.decode()


def test_a_home_that_hands_work_in_on_paper_is_on_paper_though_it_was_invited_once(
    village, days_set
):
    edie = invite_edie(village, MONDAY)
    send(edie, None, days_set[0], by_staff=True)
    found = found_at_noon(village)
    assert [each.child for each in found.on_paper] == [edie]
    assert found.never_came_in == []


def test_work_that_was_taken_back_was_not_heard(village, sent_on_friday):
    sent_on_friday.withdrawn_at = sent_on_friday.sent_at
    sent_on_friday.save()
    assert silent(village, 9) == [("Ben", 9)]


@freeze_time("2026-12-04 12:00")
def test_the_page_says_what_came_last_and_when(village, signed_in, sent_on_friday):
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/not-heard-from/").content
    words = html.decode()
    assert "6 days set" in words
    assert "Last sent on Wednesday 25 November, for 23 November" in words
    assert "Aisha" not in words


@freeze_time("2026-12-04 12:00")
def test_a_call_is_noted_by_whoever_made_it_and_can_be_deleted(village, signed_in, sent_on_friday):
    client, page = signed_in("assistant"), f"/classes/{village.robins.pk}/not-heard-from/"
    words = {"words": "Left a message."}
    answer = client.post(f"/children/{village.ben.pk}/calls/?days=3", words)
    assert answer.url == f"{page}?days=3#child-{village.ben.pk}"
    html = signed_in("teacher").get(page).content.decode()
    assert "Fri 4 Dec, Assistant:" in html
    assert "Left a message." in html
    signed_in("teacher").post(f"/calls/{ContactNote.objects.get().pk}/remove/")
    assert not ContactNote.objects.exists()


@freeze_time("2026-12-04 12:00")
def test_a_note_without_words_or_too_long_is_refused(village, signed_in, sent_on_friday):
    client = signed_in("teacher")
    for words in ("", "x" * 201):
        answer = client.post(f"/children/{village.ben.pk}/calls/", {"words": words})
        assert answer.status_code == 422
    assert not ContactNote.objects.exists()


def test_only_the_staff_of_the_class_see_or_write_notes(village, signed_in):
    note = ContactNote.objects.create(
        child=village.ben, called_by=village.people["teacher"], words="They are away."
    )
    for role in ("other family", "other teacher", "office", "foreign lead"):
        client = signed_in(role)
        assert client.get(f"/classes/{village.robins.pk}/not-heard-from/").status_code == 404
        assert client.post(f"/calls/{note.pk}/remove/").status_code == 404
        call = client.post(f"/children/{village.ben.pk}/calls/", {"words": "Hello"})
        assert call.status_code == 404
    assert ContactNote.objects.count() == 1


def test_a_child_whose_home_has_no_account_is_listed_as_on_paper(village, signed_in):
    make_child(village.robins, "Edie", "L")
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/not-heard-from/").content
    paper = html.decode().split("On paper")[-1]
    assert "Edie L" in paper
    assert "Ben T" not in paper


@pytest.mark.parametrize("query", ["?days=0", "?days=many", "?days=999", ""])
def test_a_number_of_days_that_makes_no_sense_is_five(village, signed_in, query):
    page = signed_in("teacher").get(f"/classes/{village.robins.pk}/not-heard-from/{query}")
    assert page.context["form"].chosen == 5

"""What is kept long enough goes in the night, by the same table that the screens show."""

import datetime as dt

import pytest
from django.utils import timezone

from assessment.models import ContactNote, FamilyWord, Judgement, Period, Tag, WeekSummary
from evidence.models import Submission
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.data_protection import jobs
from portal.data_protection.data_export import files
from portal.data_protection.hooks import keeping
from portal.data_protection.models import (
    DataExport,
    DataRequest,
    Leaver,
    LegalHold,
    PurgeRun,
    RetentionRule,
)
from portal.data_protection.retention import purge as purging
from portal.data_protection.retention.durations import in_words
from portal.data_protection.retention.purge import purge, purge_tonight, rules_of, tonight
from portal.people.audit.models import KEPT as EVENTS_KEPT
from portal.people.models import Child, Event, Guardianship, Invitation, School, StaffPost, User
from tasks.models import DayPlan
from tests.assessment.builders import goal
from tests.evidence.builders import files_in_store, make_ready_piece, make_submission
from tests.village import MONDAY

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.servers]
DAY = dt.timedelta(days=1)
YEAR_END = dt.date(2027, 7, 21)  # of the village's school year


def noon(school: School, day: dt.date) -> dt.datetime:
    """Return noon of *day* at *school*."""
    return dt.datetime.combine(day, dt.time(12), tzinfo=school.zone)


def after_year_end(village, days: int) -> dt.datetime:
    """Return noon *days* after the last day of the village's year."""
    return noon(village.school, YEAR_END + days * DAY)


def work(village, tagged: bool = False) -> Submission:
    submission = make_submission(village, note="five and five")
    make_ready_piece(submission)
    if tagged:
        Tag.objects.create(submission=submission, goal=goal(), how=Tag.How.NOT_YET)
    return submission


def could_not(village) -> Nonsubmission:
    plan = DayPlan.objects.create(school_class=village.robins, date=YEAR_END)
    return Nonsubmission.objects.create(
        child=village.aisha, home=village.second_home, day_plan=plan
    )


def planted(village) -> dict[str, tuple[object, dt.datetime]]:
    """Make one thing of each kind that is purged; say from which moment each is counted."""
    now = timezone.now()
    year_end = noon(village.school, YEAR_END)
    aisha, lead = village.aisha, village.people["lead"]
    period = Period.objects.create(year=village.robins.year, name="July", ends=YEAR_END)
    parent = User.objects.create_user("old@example.org", "Old")
    own = Guardianship.objects.create(adult=parent, child=village.ben, home=village.bens_home)
    Guardianship.objects.filter(pk=own.pk).update(ended_at=now)
    staff = User.objects.create_user("gone@example.org", "Gone")
    StaffPost.objects.create(user=staff, school=village.school, role="office", ended_at=now)
    Invitation.issue(village.ben, village.bens_home, lead)
    Invitation.objects.update(expires_at=now)
    Judgement.objects.create(
        child=aisha, period=period, framework=goal().framework, unit="Number", version=1
    )
    DataExport.objects.create(child=aisha, asked_by=lead)
    wish = DataRequest.ask(aisha, DataRequest.What.ASK, lead)
    DataRequest.objects.filter(pk=wish.pk).update(settled_at=now)
    hold = LegalHold.place(village.cal, None, lead)
    LegalHold.objects.filter(pk=hold.pk).update(ended_at=now)
    gone = make_submission(village, note="taken back", withdrawn_at=now)
    leaver = Child.objects.create(school=village.school, first_name="Eve", initial="R")
    Leaver.objects.create(child=leaver, since=now.astimezone(village.school.zone).date())
    WeekSummary.objects.create(
        audience="staff", school_class=village.robins, week=MONDAY, figures={}
    )
    FamilyWord.objects.create(school_class=village.robins, week=MONDAY, text="Well done")
    ContactNote.objects.create(child=aisha, words="will send", called_at=now)
    night = PurgeRun.objects.create(school=village.school, date=now.date(), done_at=now)
    return {
        "work": (work(village), year_end),
        "evidence": (work(village, tagged=True), year_end),
        "taken back": (gone, now),
        "could not": (could_not(village), year_end),
        "leavers": (leaver, now),
        "judgements": (Judgement.objects.get(), year_end),
        "weeks": (WeekSummary.objects.get(), year_end),
        "words": (FamilyWord.objects.get(), year_end),
        "notes of calls": (ContactNote.objects.get(), now),
        "accounts at home": (parent, now),
        "accounts of staff": (staff, now),
        "invitations": (Invitation.objects.get(), now),
        "copies": (DataExport.objects.get(), now),
        "wishes": (wish, now),
        "holds": (hold, now),
        "nights": (night, now),
    }


def is_there(thing) -> bool:
    return type(thing)._base_manager.filter(pk=thing.pk).exists()


PURGED = [kept.key for kept in keeping() if kept.due]


def test_every_kind_that_is_purged_is_tried_out_here(village):
    assert set(planted(village)) == set(PURGED)


@pytest.mark.parametrize("key", PURGED)
def test_a_thing_is_kept_for_just_as_long_as_the_page_says(village, key):
    thing, since = planted(village)[key]
    (rule,) = (rule for rule in rules_of(village.school) if rule.kept.key == key)
    before, after = (
        rule.kept.due(village.school, rule.length, since + rule.length + days)
        for days in (-DAY, DAY)
    )
    assert (before.count(), rule.kept.delete(before)) == (0, 0)
    assert is_there(thing)
    assert (after.count(), rule.kept.delete(after)) == (1, 1)
    assert not is_there(thing)
    assert rule.kept.delete(after.all()) == 0


def test_the_page_of_what_would_go_tonight_counts_what_the_purge_then_deletes(village):
    planted(village)
    now = after_year_end(village, 91)
    Leaver.note(village.school, now.date())
    told = {due.rule.kept.key: due.count for due in tonight(village.school, now)}
    assert told["work"] == 1
    assert told["evidence"] == 0
    assert purge(village.school, now) == told


def test_looking_at_what_would_go_changes_nothing(village):
    things = planted(village)
    tonight(village.school, after_year_end(village, 4000))
    assert all(is_there(thing) for thing, _since in things.values())


def test_files_go_with_their_work(village):
    work(village)
    assert len(files_in_store()) == 2
    purge(village.school, after_year_end(village, 91))
    assert files_in_store() == []


def test_a_school_may_keep_work_for_longer_or_less_long(village):
    submission = work(village)
    RetentionRule.objects.create(school=village.school, kind="work", days=10)
    purge(village.school, after_year_end(village, 10))
    assert is_there(submission)
    purge(village.school, after_year_end(village, 11))
    assert not is_there(submission)


@pytest.mark.parametrize("whole_child", [True, False])
def test_what_is_held_stays_however_old_it_is(village, whole_child):
    submission = work(village)
    other = make_submission(village, village.ben, village.bens_home)
    on = None if whole_child else submission.pk
    LegalHold.place(village.aisha, on, village.people["lead"])
    purge(village.school, after_year_end(village, 5000))
    assert is_there(submission)
    assert not is_there(other)
    assert Child.objects.filter(pk=village.aisha.pk).exists()
    LegalHold.end(village.aisha, on, village.people["lead"])
    purge(village.school, after_year_end(village, 5000))
    assert not is_there(submission)


def test_a_child_is_not_forgotten_before_the_last_evidence_is(village):
    work(village, tagged=True)
    RetentionRule.objects.create(school=village.school, kind="evidence", days=5 * 365)
    purge(village.school, after_year_end(village, 400))
    assert Child.objects.filter(pk=village.aisha.pk).exists()
    assert not Child.objects.filter(pk=village.ben.pk).exists()
    purge(village.school, after_year_end(village, 5 * 365 + 1))
    assert not Child.objects.filter(school=village.school).exists()


def test_who_comes_back_is_no_leaver_any_more(village):
    Child.objects.filter(pk=village.ben.pk).update(school_class=None)
    Leaver.note(village.school, MONDAY)
    assert Leaver.of(village.ben).since == MONDAY
    Child.objects.filter(pk=village.ben.pk).update(school_class=village.wrens)
    Leaver.note(village.school, MONDAY + DAY)
    assert Leaver.of(village.ben) is None


def test_one_school_s_night_leaves_another_s_things(village):
    foreign = make_submission(village, village.dot, village.bens_home)
    purge(village.school, after_year_end(village, 5000))
    assert is_there(foreign)
    assert Child.objects.filter(pk=village.dot.pk).exists()


def test_the_night_s_work_is_done_once_and_not_before_two(village):
    early = dt.datetime(2026, 12, 1, 1, 59, tzinfo=village.school.zone)
    assert not purge_tonight(village.school, early)
    late = early.replace(hour=2, minute=0)
    assert purge_tonight(village.school, late)
    assert not purge_tonight(village.school, late)
    assert purge_tonight(village.school, late + DAY)
    assert PurgeRun.objects.filter(done_at__isnull=False).count() == 2


def test_a_night_whose_worker_died_is_gone_on_with(village, monkeypatch):
    at_two = dt.datetime(2026, 12, 1, 2, 30, tzinfo=village.school.zone)
    monkeypatch.setattr(purging, "purge", lambda *_args: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        purge_tonight(village.school, at_two)
    monkeypatch.undo()
    assert not purge_tonight(village.school, at_two)  # in other hands, for all anybody knows
    PurgeRun.objects.update(leased_until=timezone.now() - dt.timedelta(hours=1))
    assert purge_tonight(village.school, at_two)


def test_one_school_s_fault_keeps_no_other_waiting(village, monkeypatch, caplog):
    done = []

    def purge_or_fail(school, now):
        if school == village.school:
            raise OSError("Aisha's picture")
        done.append(school.pk)

    monkeypatch.setattr(jobs, "purge_tonight", purge_or_fail)
    jobs.purge_schools()
    assert done == [village.dot.school_id]
    assert "OSError" in caplog.text
    assert "Aisha" not in caplog.text


def test_an_old_copy_goes_with_its_file(village):
    name = files.new_name()
    (files.folder() / name).write_bytes(b"zip")
    DataExport.objects.create(
        child=village.aisha, file=name, ready_at=timezone.now(),
        asked_at=timezone.now() - dt.timedelta(days=8),
    )  # fmt: skip
    purge(village.school, timezone.now())
    assert files_in_store() == []


def test_what_other_jobs_delete_is_shown_from_the_constant_they_obey():
    lengths = {kept.key: kept.length for kept in keeping() if not kept.due}
    assert lengths["log"] == EVENTS_KEPT == dt.timedelta(days=365)
    assert lengths["partial uploads"] <= dt.timedelta(days=7)


def test_the_log_is_forgotten_after_the_length_that_the_page_shows(village):
    (kept,) = (kept for kept in keeping() if kept.key == "log")
    for age, stays in ((kept.length - DAY, True), (kept.length + DAY, False)):
        event = Event.objects.create(
            school=village.school, role="lead", what="signed in", at=timezone.now() - age
        )
        Event.objects.purge()
        assert Event.objects.filter(pk=event.pk).exists() is stays


def test_usual_lengths_are_short_until_a_school_decides_otherwise():
    lengths = {kept.key: kept.length for kept in keeping()}
    assert lengths["work"] == 90 * DAY
    assert lengths["backups"] <= 35 * DAY
    assert all(kept.least <= kept.length <= kept.most for kept in keeping() if kept.is_chosen)


@pytest.mark.parametrize(
    ("length", "words"),
    [
        (dt.timedelta(), "at once"),
        (dt.timedelta(minutes=1), "1 minute"),
        (dt.timedelta(hours=1), "1 hour"),
        (90 * DAY, "90 days"),
        (730 * DAY, "2 years"),
    ],
)
def test_lengths_are_said_in_words(length, words):
    assert in_words(length) == words

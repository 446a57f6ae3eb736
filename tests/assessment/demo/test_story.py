"""The invented school tells its story on whatever day it is made."""

import datetime as dt
import random
from zoneinfo import ZoneInfo

import pytest
from django.db import transaction
from freezegun import freeze_time

from assessment.demo.gallery import Gallery
from assessment.demo.people import ROBINS, make_people
from assessment.demo.plans import make_plans
from assessment.demo.school import begin_drawing, make_school
from assessment.demo.story import NOT_HEARD_FROM, ON_PAPER, SAYS_NO, SIBLINGS, STOPPED
from assessment.demo.work import Work
from assessment.goals.goal_sets import load_frameworks
from assessment.models import LeadMark, Sample
from assessment.progress.child_page import story_of
from assessment.progress.not_heard_from import not_heard_from_in
from assessment.weekly.mails import waiting
from evidence.media import RefusalReason, recognise
from evidence.models import Piece, Submission
from evidence.storage.store import open_file
from evidence.submissions.who_looked import by_piece
from portal.data_protection.consent.report import report
from portal.people.models import Child, Invitation, SchoolClass, User
from tasks.models import DayPlan, Task

pytestmark = pytest.mark.django_db
WEDNESDAY = dt.datetime(2026, 11, 25, 16, 30, tzinfo=ZoneInfo("Europe/London"))


def tell(now: dt.datetime) -> Work:
    """Make people, plans and work of the story, without its pictures."""
    load_frameworks()
    cast = make_people(now.date())
    chance = random.Random("a kitchen table")
    work = Work(cast, make_plans(cast, now), Gallery(chance), chance)
    work.send_all()
    work.store()
    return work


def tell_and_undo(now: dt.datetime) -> list[tuple[str, dt.datetime]]:
    """Tell the story, and leave nothing of it but who sent, and when."""
    with transaction.atomic():
        told = [(str(each.child), each.sent_at) for each in tell(now).submissions]
        transaction.set_rollback(True)
    return told


def sent_today(work: Work, name: str) -> bool:
    """Whether the home of *name* has sent for the day that is shown."""
    own = [each for each in work.submissions if str(each.child) == name]
    return any(each.day_plan.date == work.cast.today for each in own)


def answered_last_time(work: Work, name: str) -> bool:
    """Whether the last work of *name* has been looked at."""
    own = [each for each in work.submissions if str(each.child) == name]
    return max(own, key=lambda each: each.sent_at).looked_at is not None


def child(name: str) -> Child:
    """Return the child of the story called *name*."""
    first_name, initial = name.split()
    return Child.objects.get(first_name=first_name, initial=initial)


@pytest.mark.parametrize(
    ("day", "shows"),
    [
        *(("2026-11-25", "2026-11-25"), ("2026-11-28", "2026-11-27"), ("2026-11-29", "2026-11-27")),
        *(("2026-12-28", "2026-12-18"), ("2027-01-01", "2026-12-18"), ("2027-01-06", "2027-01-06")),
        *(("2026-08-05", "2026-08-05"), ("2026-09-01", "2026-09-01"), ("2027-07-23", "2027-07-23")),
        *(("2028-02-29", "2028-02-29"), ("2026-10-28", "2026-10-23")),
    ],
)
def test_a_demo_has_work_for_everybody_on_any_day_of_the_year(day, shows):
    """By the clock it is 06:10, before anything is usually set."""
    now = dt.datetime.combine(dt.date.fromisoformat(day), dt.time(6, 10), tzinfo=WEDNESDAY.tzinfo)
    with freeze_time(now):
        work = tell(now)
        today = work.cast.today
        left_to_look_at = Submission.objects.not_yet_looked_at().count()
        drafts = DayPlan.objects.drafts().filter(date__gt=now.date()).count()
        out_today = DayPlan.objects.out().filter(date=today).count()
    assert today == dt.date.fromisoformat(shows)
    assert left_to_look_at >= 4
    assert all(each.sent_at <= now for each in work.submissions)
    assert drafts >= 5
    assert out_today == 2
    assert not sent_today(work, "Mina A")
    assert [sent_today(work, name) for name in SIBLINGS[0]] == [False, True]
    assert answered_last_time(work, "Mina A")


@freeze_time(WEDNESDAY.replace(hour=7, minute=0))
def test_at_seven_in_the_morning_of_a_school_day_something_is_set():
    work = tell(WEDNESDAY.replace(hour=7, minute=0))
    assert DayPlan.objects.out().filter(date=work.cast.today).count() == 2


@freeze_time(WEDNESDAY)
def test_on_a_good_day_two_thirds_of_thirty_send_some_late_some_on_paper_and_two_not_at_all():
    before = tell_and_undo(WEDNESDAY)
    work = tell(WEDNESDAY)
    own = [each for each in work.submissions if each.child.school_class == work.cast.robins]
    days = sorted({each.day_plan.date for each in own})
    counts = [sum(each.day_plan.date == day for each in own) for day in days[:-3]]
    good = sorted(counts)[-len(counts) // 3 :]
    assert 18 <= sum(good) / len(good) <= 25
    assert min(counts) >= 7
    late = [each for each in own if each.sent_at.date() > each.day_plan.date]
    assert 0.05 < len(late) / len(own) < 0.2
    on_paper = {str(each.child) for each in own if each.by_staff}
    assert on_paper == set(ON_PAPER)
    lately = {str(each.child) for each in own if each.day_plan.date in days[-6:]}
    assert set(ROBINS) - lately - set(ON_PAPER) == {NOT_HEARD_FROM, *STOPPED}
    assert before == [(str(each.child), each.sent_at) for each in work.submissions]


@freeze_time(WEDNESDAY)
def test_the_story_is_told_as_the_readme_promises(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    load_frameworks()
    make_school(WEDNESDAY, begin_drawing(tmp_path / "drawn"), tmp_path / "drawn")
    robins = SchoolClass.objects.get(name="Robins")
    teacher = User.objects.get(email="teacher@demo.invalid")

    assert robins.children.count() == 30
    assert DayPlan.objects.out().filter(school_class=robins).count() > 50

    silence = not_heard_from_in(robins, teacher, 5)
    assert [str(each.child) for each in silence.silent] == [NOT_HEARD_FROM, *STOPPED]
    assert silence.silent[0].notes
    assert {str(each.child) for each in silence.on_paper} == set(ON_PAPER)
    for name in ON_PAPER:
        assert {each.by_staff for each in child(name).submissions.all()} == {True}

    assert all(child(a).homes.get() == child(b).homes.get() for a, b in SIBLINGS)
    across = [child(a).school_class != child(b).school_class for a, b in SIBLINGS]
    assert sorted(across) == [False, True, True]

    assert mistakes_told("Mina A") == {"Said double instead of half": "gone"}
    assert mistakes_told("Omar Q")["Took two away instead of halving"] != "gone"
    assert Task.objects.filter(kind="halves-of-shapes", day_plan__date=WEDNESDAY.date()).exists()

    lead, office = (User.objects.get(email=f"{key}@demo.invalid") for key in ("lead", "office"))
    assert Sample.objects.looked_through_by(lead).count() == 1
    assert LeadMark.objects.visible_to(lead).open().count() == 1
    invited = Invitation.objects.kept_by(office).open()
    assert {each.is_on_paper for each in invited} == {True, False}
    assert invited.exclude(mail_came_back_at=None).count() == 1
    assert {mail.recipient.email for mail in waiting(WEDNESDAY)} == {
        f"{key}@demo.invalid" for key in ("teacher", "family", "siblings")
    }

    may = {
        str(line.child): [each.counts for each in line.standings]
        for line in report(robins.children.all())
    }
    assert sum(map(sum, may.values())) > 40
    assert not any(may[SAYS_NO])
    assert sum(not any(each) for each in may.values()) >= 4

    ready = Piece.objects.filter(state=Piece.State.READY)
    opened = {bool(each.looks) for each in by_piece(ready.filter(submission__looked_at=None))}
    assert opened <= {False}
    answered = by_piece(ready.exclude(submission__looked_at=None))
    assert all(each.looks for each in answered)
    arrived = Piece.objects.filter(state=Piece.State.ARRIVED)
    assert ready.count() > 50
    assert {each.kind for each in arrived} == {"photo", "clip"}
    for piece in arrived:
        content = open_file(piece.original)
        assert not isinstance(recognise(b"".join(content.blocks(0, content.size))), RefusalReason)
        content.close()


def mistakes_told(name: str) -> dict[str, str]:
    """Return the mistakes that the child's page tells of, and how each of them went."""
    return {each.sentence: str(each.course).casefold() for each in story_of(child(name)).mistakes}

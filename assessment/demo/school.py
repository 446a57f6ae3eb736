"""The invented school as a whole: people, plans, work, calls and words."""

import datetime as dt
import random
from pathlib import Path

from django.db import transaction
from django.utils import timezone

from assessment.demo.drawing.studio import Studio
from assessment.demo.gallery import Gallery
from assessment.demo.people import Cast, make_people
from assessment.demo.plans import Plans, make_plans
from assessment.demo.story import CALLS, LIBRARY, MARK, MISTAKEN, NOT_HEARD_FROM, WORDS_OF_WEEKS
from assessment.demo.trust import agree, note_who_looked
from assessment.demo.waiting import leave_work, let_mails_wait
from assessment.demo.work import Work
from assessment.insight.weeks import Week
from assessment.looks.lead_marks import mark_for_lead
from assessment.looks.phrases import keep_starters
from assessment.looks.school_mistakes import learn_of
from assessment.models import ContactNote, FamilyWord
from assessment.weekly.summaries import make_summary, week_to_make
from evidence.models import Submission
from portal.people.models import User


def begin_drawing(folder: Path) -> Studio:
    """Begin to draw what hangs in every demo, on another core, while the database is prepared."""
    return Studio(folder, LIBRARY)


def make_school(now: dt.datetime, drawing: Studio, folder: Path) -> dt.date:
    """Make all of it, as of *now*; *drawing* fills *folder* meanwhile. Give the day it is for."""
    with transaction.atomic():
        chance = random.Random("a kitchen table")  # noqa: S311 - a story, not a secret
        cast = make_people(now.date())
        plans = make_plans(cast, now)
        gallery = Gallery(chance)
        work = Work(cast, plans, gallery, chance)
        work.send_all()
        pages = Studio(folder, gallery.orders)
        work.store()
        say_and_note(cast, now)
        let_mails_wait(roll_up(cast, plans, now))
        leave_work(cast)
        drawing.wait()
        pages.wait()
        gallery.store(folder)
        agree(cast, chance)
        note_who_looked(cast)
        learn_of(cast.school)  # as the nights before would have
        # What they did in the story ticks none of the first steps of who visits the demo as them.
        User.objects.update(first_steps_since=timezone.now())
    return cast.today


def say_and_note(cast: Cast, now: dt.datetime) -> None:
    """Note the calls to the family that is not heard from, mark work for the lead, keep phrases."""
    silent = cast.children[NOT_HEARD_FROM]
    ContactNote.objects.bulk_create(
        ContactNote(
            child=silent,
            called_by=cast.teacher,
            called_at=school_days_before(now, ago),
            words=words,
        )
        for ago, words in CALLS
    )
    stays = next(name for name, (_mistake, weeks) in MISTAKEN.items() if weeks > 2)
    looked = Submission.objects.filter(child=cast.children[stays], looked_at__isnull=False)
    if latest := looked.order_by("-sent_at").first():
        mark_for_lead(latest, cast.teacher, MARK)
    keep_starters(cast.teacher)


def school_days_before(now: dt.datetime, days: int) -> dt.datetime:
    """Return the moment so many weekdays before *now*."""
    moment = now
    while days:
        moment -= dt.timedelta(days=1)
        days -= moment.weekday() < 5
    return moment


def roll_up(cast: Cast, plans: Plans, now: dt.datetime) -> dt.date:
    """Roll the last weeks of both classes up, with the teacher's words to families.

    This week's as well, where its time has come. Gives the Monday of the last of them.
    """
    latest = week_to_make(cast.school, now)
    due = latest is not None and latest.monday == plans.mondays[0]
    weeks = [Week.of(monday) for monday in plans.mondays]
    for back in (2, 1, 0) if due else (2, 1):
        week = weeks[min(back, len(weeks) - 1)]
        said = {"text": WORDS_OF_WEEKS[back], "by": cast.teacher}
        FamilyWord.objects.get_or_create(school_class=cast.robins, week=week.monday, defaults=said)
        make_summary(cast.robins.pk, week)
    last = weeks[0 if due else min(1, len(weeks) - 1)]
    make_summary(cast.wrens.pk, last)
    return last.monday

"""The invented school as a whole: people, plans, work, calls and words."""

import datetime as dt
import random
from pathlib import Path

from django.db import transaction
from django.utils import timezone

from assessment.demo.gallery import Gallery
from assessment.demo.people import Cast, make_people
from assessment.demo.plans import make_plans
from assessment.demo.story import CALLS, LIBRARY, MARK, MISTAKEN, NOT_HEARD_FROM, WORDS_OF_WEEKS
from assessment.demo.studio import Studio
from assessment.demo.trust import agree, note_who_looked
from assessment.demo.work import Work
from assessment.insight.weeks import Week
from assessment.marks import mark_for_lead
from assessment.models import ContactNote, FamilyWord, SummaryMail
from assessment.phrases import keep_starters
from assessment.summaries import make_summary
from evidence.models import Submission
from portal.people.models import User


def begin_drawing(folder: Path) -> Studio:
    """Begin to draw what hangs in every demo, on another core, while the database is prepared."""
    return Studio(folder, LIBRARY)


def make_school(now: dt.datetime, drawing: Studio, folder: Path) -> None:
    """Make all of it, as of *now*; *drawing* fills *folder* meanwhile."""
    with transaction.atomic():
        chance = random.Random("a kitchen table")  # noqa: S311 - a story, not a secret
        cast = make_people(timezone.localtime(now).date())
        plans = make_plans(cast, now)
        gallery = Gallery(chance)
        work = Work(cast, plans, gallery, chance)
        work.send_all()
        pages = Studio(folder, gallery.orders)
        work.store()
        say_and_note(cast, now)
        roll_up(cast, plans.today)
        drawing.wait()
        pages.wait()
        gallery.store(folder)
        agree(cast, chance)
        note_who_looked(cast)
        # What they did in the story ticks none of the first steps of who visits the demo as them.
        User.objects.update(first_steps_since=timezone.now())


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
    """Give the moment so many weekdays before *now*."""
    moment = now
    while days:
        moment -= dt.timedelta(days=1)
        days -= moment.weekday() < 5
    return moment


def roll_up(cast: Cast, today: dt.date) -> None:
    """Roll the last weeks up, with the teacher's words to families; no mail waits of those."""
    for back, words in sorted(WORDS_OF_WEEKS.items(), reverse=True):
        week = Week.of(today).shifted(-back)
        FamilyWord.objects.create(
            school_class=cast.robins, week=week.monday, text=words, by=cast.teacher
        )
        make_summary(cast.robins.pk, week)
    SummaryMail.objects.update(sent_at=timezone.now(), attempts=1)

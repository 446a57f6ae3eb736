"""How long what families sent is kept: RETENTION, the table for portal.data_protection.

Work with a tag on it is kept as evidence; other work is not. Tags are known here by the name of
their relation alone: they stand further up.
"""

import datetime as dt

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from evidence.erasure import remove_work
from evidence.jobs import REFUSED_KEPT
from evidence.models import Submission, SubmissionQuerySet
from evidence.submissions.nonsubmissions import Nonsubmission, NonsubmissionQuerySet
from evidence.uploads.tus.upload import LIFE as UPLOAD_LIFE
from portal.data_protection.erasure.erase import erase_child
from portal.data_protection.hooks import Kept, last_day
from portal.data_protection.models import Leaver, LegalHold
from portal.people.models import Child, School

DAY, YEAR = dt.timedelta(days=1), dt.timedelta(days=365)


def not_held(school: School) -> SubmissionQuerySet:
    """Return the work of *school* that nobody holds."""
    return Submission.objects.filter(~LegalHold.objects.on_work(), child__school=school)


def after_year(school: School, length: dt.timedelta, now: dt.datetime) -> SubmissionQuerySet:
    """Return the work not held whose school year ended *length* ago: the days since are full."""
    active = not_held(school).active()
    return active.filter(day_plan__school_class__year__ends__lt=last_day(school, length, now))


def old_work(school: School, length: dt.timedelta, now: dt.datetime) -> SubmissionQuerySet:
    """Return work without any tag, *length* after its year."""
    return after_year(school, length, now).filter(tags=None)


def old_evidence(school: School, length: dt.timedelta, now: dt.datetime) -> SubmissionQuerySet:
    """Return tagged work, *length* after its year."""
    return after_year(school, length, now).filter(tags__isnull=False).distinct()


def taken_back(school: School, length: dt.timedelta, now: dt.datetime) -> SubmissionQuerySet:
    """Return what families took back *length* ago: its words; its files went at once."""
    return not_held(school).filter(withdrawn_at__lt=now - length)


def old_could_nots(school: School, length: dt.timedelta, now: dt.datetime) -> NonsubmissionQuerySet:
    """Return what homes said in place of work, *length* after its year, of children not held."""
    said = Nonsubmission.objects.filter(~LegalHold.objects.on_child("child"), child__school=school)
    return said.filter(day_plan__school_class__year__ends__lt=last_day(school, length, now))


def gone_children(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[Child]:
    """Return the children who left *length* ago and have no work left here."""
    left = Leaver.objects.filter(since__lt=last_day(school, length, now))
    held = LegalHold.objects.active().values("child")
    children = Child.objects.filter(school=school, left__in=left, submissions=None)
    return children.exclude(pk__in=held)


def erase_each(rows: QuerySet[Child]) -> int:
    """Erase the children of *rows*, and give how many they were."""
    children = list(rows)
    for child in children:
        erase_child(child)
    return len(children)


RETENTION = (
    Kept(
        "work",
        _("Photos, clips, voice notes, answers and notes from home, with no goal noted on them"),
        _("after the end of the school year"),
        90 * DAY,
        due=old_work,
        delete=remove_work,
        least=DAY,
        most=2 * YEAR,
        for_families=True,
    ),
    Kept(
        "evidence",
        _("The same, where the teacher noted a goal on them"),
        _("after the end of the school year"),
        YEAR,
        due=old_evidence,
        delete=remove_work,
        least=DAY,
        most=7 * YEAR,
        for_families=True,
    ),
    Kept(
        "could not",
        _("That a day's work could not be done at home, and why"),
        _("after the end of the school year"),
        90 * DAY,
        due=old_could_nots,
        least=DAY,
        most=YEAR,
        for_families=True,
    ),
    Kept(
        "files taken back",
        _("Photos, clips and voice notes that were taken back"),
        _("after they were taken back"),
        dt.timedelta(),
        for_families=True,
    ),
    Kept(
        "taken back",
        _("Answers and notes that were taken back"),
        _("after they were taken back"),
        7 * DAY,
        due=taken_back,
        delete=remove_work,
        for_families=True,
    ),
    Kept(
        "partial uploads",
        _("The part of a file that arrived before sending broke off"),
        _("after its last part arrived"),
        UPLOAD_LIFE,
        for_families=True,
    ),
    Kept(
        "unreadable files",
        _("Files that could not be read"),
        _("after they arrived"),
        REFUSED_KEPT,
        for_families=True,
    ),
    Kept(
        "leavers",
        _("What is left of children who are no longer in a class"),
        _("after they left"),
        YEAR,
        due=gone_children,
        delete=erase_each,
        least=DAY,
        most=2 * YEAR,
        for_families=True,
    ),
)

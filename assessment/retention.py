"""How long what staff wrote about a child is kept: RETENTION, the table for portal.data_protection.

Looks, tags and replies are not in it: they go with the work that they are about.
"""

import datetime as dt
from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from assessment.looks.models.voice_replies import PUT_BACK_WITHIN
from assessment.models import ContactNote, FamilyWord, Judgement, WeekSummary
from portal.data_protection.hooks import Kept, last_day
from portal.data_protection.models import LegalHold
from portal.people.models import School, SchoolYear

DAY, YEAR = dt.timedelta(days=1), dt.timedelta(days=365)


def past_years(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[SchoolYear]:
    """Return the years of *school* that ended *length* ago."""
    return SchoolYear.objects.filter(school=school, ends__lt=last_day(school, length, now))


def without_held(rows: Any) -> Any:
    """Leave out of *rows*, of any model with a child, those about one who is held."""
    return rows.filter(~LegalHold.objects.on_child("child"))


def old_judgements(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[Judgement]:
    """Return the judgements whose year ended *length* ago."""
    judged = Judgement.objects.filter(child__school=school)
    return without_held(judged.filter(period__year__ends__lt=last_day(school, length, now)))


def delete_judgements(judgements: QuerySet[Judgement]) -> int:
    """Delete *judgements*, past the refusal that keeps anybody from rewriting one."""
    pks = list(judgements.values_list("pk", flat=True))
    old = Judgement.objects.filter(pk__in=pks)
    return old._raw_delete(old.db) if pks else 0


def old_weeks(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[WeekSummary]:
    """Return the summaries of weeks whose year ended *length* ago."""
    years = past_years(school, length, now)
    return without_held(WeekSummary.objects.filter(school_class__year__in=years))


def old_words(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[FamilyWord]:
    """Return the words to families whose year ended *length* ago."""
    years = past_years(school, length, now)
    return without_held(FamilyWord.objects.filter(school_class__year__in=years))


def old_notes(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[ContactNote]:
    """Return the notes of calls that were made *length* ago."""
    return without_held(
        ContactNote.objects.filter(child__school=school, called_at__lt=now - length)
    )


RETENTION = (
    Kept(
        "judgements",
        _("The teacher's judgements at the end of a period"),
        _("after the end of the school year"),
        YEAR,
        due=old_judgements,
        delete=delete_judgements,
        least=DAY,
        most=7 * YEAR,
        for_families=True,
    ),
    Kept(
        "weeks",
        _("Summaries of weeks, and who was mailed about one"),
        _("after the end of the school year"),
        YEAR,
        due=old_weeks,
        for_families=True,
    ),
    Kept(
        "words",
        _("The teacher's words to families beside a summary"),
        _("after the end of the school year"),
        YEAR,
        due=old_words,
        for_families=True,
    ),
    Kept(
        "notes of calls",
        _("Notes of calls to a family"),
        _("after the call"),
        YEAR,
        due=old_notes,
        for_families=True,
    ),
    Kept(
        "replies taken back",
        _("Spoken replies that were taken back"),
        _("after they were taken back"),
        PUT_BACK_WITHIN,
    ),
)

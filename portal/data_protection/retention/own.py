"""How long privacy's own things are kept: RETENTION, besides what the apps tell of theirs."""

import datetime as dt

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from portal.data_protection.data_export.files import remove
from portal.data_protection.data_export.models import LIFE
from portal.data_protection.hooks import Kept
from portal.data_protection.models import DataExport, DataRequest, LegalHold, PurgeRun
from portal.operations.backup.making import OLDEST
from portal.people.models import School

YEAR = dt.timedelta(days=365)


def old_copies(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[DataExport]:
    """Return the copies that were asked for *length* ago."""
    return DataExport.objects.filter(child__school=school, asked_at__lt=now - length)


def delete_copies(copies: QuerySet[DataExport]) -> int:
    """Delete *copies* with their files, the files first: a file without a row finds nobody."""
    found = list(copies.values_list("pk", "file"))
    for _pk, file in found:
        remove(file)
    DataExport.objects.filter(pk__in=[pk for pk, _file in found]).delete()
    return len(found)


def old_wishes(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[DataRequest]:
    """Return the wishes that were seen to *length* ago."""
    return DataRequest.objects.filter(child__school=school, settled_at__lt=now - length)


def old_holds(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[LegalHold]:
    """Return the holds that were ended *length* ago."""
    return LegalHold.objects.filter(child__school=school, ended_at__lt=now - length)


def old_nights(school: School, length: dt.timedelta, now: dt.datetime) -> QuerySet[PurgeRun]:
    """Return the nights whose work was done *length* ago."""
    return PurgeRun.objects.filter(school=school, done_at__lt=now - length)


RETENTION = (
    Kept(
        "copies",
        _("Copies to take along"),
        _("after they were asked for"),
        LIFE,
        due=old_copies,
        delete=delete_copies,
        for_families=True,
    ),
    Kept(
        "wishes",
        _("What families asked for about their data"),
        _("after it was seen to"),
        YEAR,
        due=old_wishes,
        for_families=True,
    ),
    Kept(
        "holds",
        _("That something was held"),
        _("after the hold was ended"),
        YEAR,
        due=old_holds,
    ),
    Kept(
        "nights",
        _("How much was deleted on which night"),
        _("after that night"),
        YEAR,
        due=old_nights,
    ),
    Kept(
        "backups",
        _("What is deleted, in the backups"),
        _("after it was deleted"),
        OLDEST,
        for_families=True,
    ),
)

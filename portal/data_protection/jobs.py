"""Privacy's jobs: the nightly purge, and making copies. Each may run twice."""

import logging

from celery import shared_task
from django.db import DatabaseError
from django.utils import timezone

from portal.data_protection.data_export import files
from portal.data_protection.data_export.writing import DamagedFileError, write_copy
from portal.data_protection.erasure.erase import wipe_traces
from portal.data_protection.hooks import Scope
from portal.data_protection.models import DataExport
from portal.data_protection.retention.purge import purge_tonight
from portal.jobs.lease import renewed
from portal.jobs.slots import alone
from portal.operations import clock, upgrade
from portal.operations.backup.making import OLDEST
from portal.people.models import School

log = logging.getLogger("portal.data_protection")
DAY = 24 * 60 * 60.0  # seconds


@shared_task
@alone
def purge_schools() -> None:
    """Purge each school whose night it is; what goes wrong at one keeps no other waiting."""
    now, some = timezone.now(), False
    if not clock.is_plausible(now):
        log.error("nothing is deleted tonight: the clock is in doubt, see manage.py doctor")
        return
    for school in School.objects.order_by("pk"):
        try:
            some |= bool(purge_tonight(school, now))
        except (DatabaseError, OSError) as error:
            # The error's own words may hold a child's data.
            log.error("night at school %s failed: %s", school.pk, type(error).__name__)
    if some:
        wipe_traces()
        upgrade.drop_old(now - OLDEST)


@shared_task
def make_copy(copy_id: int) -> None:
    """Make one copy that was asked for; a second run finds it claimed or made."""
    copy = DataExport.objects.claim(copy_id)
    if copy is None:
        return
    name = files.new_name()
    path = files.folder() / name

    def progress(done: int, most: int) -> None:
        DataExport.objects.held(copy).update(done=done, most=most)

    try:
        with renewed(copy):
            size = write_copy(Scope(copy.child, copy.home), path, progress)
    except Exception as error:
        # The error's own words may hold a child's data.
        log.error("copy %s failed: %s", copy_id, type(error).__name__)
        if is_trouble_of_our_own(error):
            DataExport.objects.give_back(copy)
        elif DataExport.objects.note_crash(copy):
            DataExport.objects.give_up(copy)
        return
    made = {"file": name, "size": size, "ready_at": timezone.now(), "leased_until": None}
    if not DataExport.objects.held(copy).update(**made):
        files.remove(name)


def is_trouble_of_our_own(error: Exception) -> bool:
    """Whether *error* says nothing of what was to be copied: a full disk, a store that is away."""
    of_a_file = isinstance(error, DamagedFileError | FileNotFoundError)
    return isinstance(error, OSError | DatabaseError) and not of_a_file


@shared_task
@alone
def sweep_copies() -> None:
    """Make the copies whose job was lost, and delete files that no copy speaks of."""
    for copy_id in DataExport.objects.to_do().values_list("pk", flat=True):
        make_copy(copy_id)
    if clock.is_plausible():
        known = set(DataExport.objects.exclude(file="").values_list("file", flat=True))
        files.clear_orphans(known, DAY)

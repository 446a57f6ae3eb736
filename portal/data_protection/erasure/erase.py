"""Erasing a child, or a whole school, for good: from the database, the store and later backups."""

import logging
from collections.abc import Iterator

from django.apps import apps
from django.db import DatabaseError, connection, transaction

from portal.data_protection.data_export import files
from portal.data_protection.hooks import Erasing, close_parts, erase_parts
from portal.data_protection.models import DataExport, LegalHold
from portal.data_protection.retention.own import delete_copies
from portal.operations import erasure_list
from portal.operations.hooks import Restored
from portal.people.models import Child, School

log = logging.getLogger("portal.data_protection")


class HeldError(Exception):
    """What is held is not erased: the hold has to be ended first."""


def erase_child(child: Child) -> Erasing:
    """Erase all there is of *child*; on return it cannot be brought back. Raises HeldError.

    It is written on the list of erasures before and after: a backup that is taken in between
    holds the child, and is older than the second entry.
    """
    if LegalHold.objects.active().filter(child=child).exists():
        raise HeldError
    erasure_list.note("people.child", child.pk)
    with transaction.atomic():
        # Whoever saves work for the child waits for this row, and then finds no child.
        Child.objects.select_for_update().get(pk=child.pk)
        erasing = Erasing(child)
        erase_parts(erasing)
    for model, pk in erasing.tombstones:
        erasure_list.note(model, pk)
    wipe_traces()
    log.info("child %s is erased: %s rows", child.pk, sum(erasing.deleted.values()))
    return erasing


def close_school(school: School) -> int:
    """Erase *school* with all its children; give how many these were. Raises HeldError."""
    children = Child.objects.filter(school=school)
    if LegalHold.objects.active().filter(child__in=children).exists():
        raise HeldError
    count = 0
    for child in children:
        erase_child(child)
        count += 1
    school_pk = school.pk
    with transaction.atomic():
        close_parts(school)
    erasure_list.note("people.school", school_pk)
    wipe_traces()
    return count


def wipe_traces() -> None:
    """Have SQLite write over what was deleted, in its file and in the log beside it.

    PostgreSQL's own upkeep does so in time; its dumps, and so backups, hold no deleted rows. While
    others write this cannot be done, and the next night does it.
    """
    if connection.vendor != "sqlite" or connection.in_atomic_block:
        return
    try:
        with connection.cursor() as cursor:
            cursor.execute("VACUUM")
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except DatabaseError:
        log.warning("what was deleted is written over in the next night")


def erase(erasing: Erasing) -> None:
    """Delete privacy's own part of the child: copies with their files; the rest goes with it."""
    copies = DataExport.objects.filter(child=erasing.child)
    names = list(copies.values_list("file", flat=True))
    erasing.delete(copies)
    transaction.on_commit(lambda: remove_files(names))


def remove_files(names: list[str]) -> None:
    """Delete copies' files; one that cannot be deleted now is an orphan, and goes a day later."""
    for name in names:
        try:
            files.remove(name)
        except OSError:
            log.warning("the file of a copy is left to the sweep")


def close(school: School) -> None:
    """Delete what privacy holds of *school* besides its children."""
    delete_copies(DataExport.objects.filter(child__school=school))


def erase_again(restored: Restored) -> Iterator[str]:
    """Erase once more what was erased after the backup was taken, each app its part."""
    later = {
        (each.model, each.pk): each for each in restored.since() if each.what == erasure_list.ERASED
    }
    rows = 0
    for model, pk in later:
        found = apps.get_model(model)._base_manager.filter(pk=pk).first()
        if found is None:
            continue
        if isinstance(found, Child):
            LegalHold.objects.active().filter(child=found).delete()
            rows += sum(erase_child(found).deleted.values())
        elif isinstance(found, School):
            rows += close_school(found)
        else:
            rows += found.delete()[0]
    yield f"{len(later)} erasures made since the backup are made again: {rows} rows."

"""Deleting what families sent, rows and files: when it was kept long enough, or is to be erased."""

from django.db import transaction
from django.db.models import QuerySet

from evidence.models import Piece, Rendition, Submission
from evidence.storage import partial_files, store
from evidence.storage.orphans import drop_unnamed
from evidence.submissions.nonsubmissions import Nonsubmission
from evidence.uploads.tus.upload import Upload
from portal.data_protection.hooks import Erasing

AT_ONCE = 100  # pieces of work in one transaction, so that nobody waits long for it


def remove_work(work: QuerySet[Submission]) -> int:
    """Delete *work* with all that hangs on it and all its files; give how many there were.

    Submissions only, some at a time: what is cut short is gone on with the next night.
    """
    pks = list(work.order_by("pk").values_list("pk", flat=True))
    for start in range(0, len(pks), AT_ONCE):
        with transaction.atomic():
            some = Submission.objects.filter(pk__in=pks[start : start + AT_ONCE])
            drop_files_of(some)
            some.delete()
    return len(pks)


def drop_files_of(work: QuerySet[Submission]) -> None:
    """Delete the files of *work* once this transaction is saved.

    Files that cannot be deleted then belong to nothing, and the sweep deletes them.
    """
    pieces = list(Piece.objects.filter(submission__in=work).values_list("pk", "original"))
    names = [original for _pk, original in pieces if original]
    names += Rendition.objects.filter(piece__submission__in=work).values_list("name", flat=True)

    def drop() -> None:
        drop_unnamed(names)
        for pk, _original in pieces:
            store.clear_workplaces(pk)

    transaction.on_commit(drop, robust=True)


def erase(erasing: Erasing) -> None:
    """Delete all that was sent and said for the child, and what is on its way."""
    erasing.delete(Nonsubmission.objects.filter(child=erasing.child))
    uploads = Upload.objects.filter(child=erasing.child)
    growing_files = [name for name in uploads.values_list("file", flat=True) if name]
    erasing.delete(uploads)
    work = Submission.objects.filter(child=erasing.child)
    drop_files_of(work)
    erasing.delete(work)

    def drop() -> None:
        for name in growing_files:
            partial_files.remove(name)

    transaction.on_commit(drop, robust=True)

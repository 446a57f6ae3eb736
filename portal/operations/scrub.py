"""Comparing every stored file with its row, and mending from a backup what a disk has spoilt."""

from collections.abc import Callable
from pathlib import Path

from django.conf import settings

from portal.operations.backup.file_store import is_well, store
from portal.operations.backup.finished import Backup, BackupError
from portal.operations.backup.sealing import Identities, unseal
from portal.operations.hooks import StoredFile, stored_files

Say = Callable[[str], None]


def find_faults() -> list[StoredFile]:
    """List the files that are not there, or not what their rows say.

    Raises OSError when the whole store is away.
    """
    faulty = [file for file in stored_files() if not is_well(file)]
    if not faulty:
        return []
    # What was taken back or made ready in the meantime is no fault.
    spoken_of = {file.name for file in stored_files()}
    return [file for file in faulty if file.name in spoken_of and not is_well(file)]


def mend(
    faulty: list[StoredFile], backup: Backup, identities: Identities | None, say: Say
) -> list[StoredFile]:
    """Bring the right bytes of *faulty* back from *backup*; give those that it does not have.

    Raises OSError, BackupError, BadKeyError.
    """
    if backup.manifest.sealed and identities is None:
        raise BackupError("The backup is sealed: give the file of its key with --key.")
    has = {kept.sha256: backup.repository / kept.kept for kept in backup.files()}
    left = []
    for file in faulty:
        if file.sha256 in has and bring_back(file, has[file.sha256], identities):
            say(f"{file.name} is mended.")
        else:
            left.append(file)
    return left


def bring_back(file: StoredFile, source: Path, identities: Identities | None) -> bool:
    """Store the content of *source* as *file* again, if it is the right one; tell whether."""
    aside = settings.DATA_DIR / "mending"
    try:
        if unseal(source, aside, identities).sha256 != file.sha256:
            return False
        store().put_back(aside, file.name)
    finally:
        aside.unlink(missing_ok=True)
    return True

"""The second half of a restore, run where the settings have their data in the staging folder."""

import json
import shutil
from collections.abc import Callable

from django.conf import settings
from django.core.management import call_command
from django.db import connection

from portal.operations import erasure_list
from portal.operations.backup.file_store import is_well, store
from portal.operations.backup.finished import Backup, BackupError, Manifest
from portal.operations.backup.making import ERASURES
from portal.operations.backup.restore import LEFT_OUT, UNPACKED
from portal.operations.backup.snapshots import count_rows, load, unknown_migrations
from portal.operations.hooks import Restored, after_restore, stored_files, whose_files

Say = Callable[[str], None]


def finish(backup: Backup, say: Say) -> None:
    """Put the database in, compare it, bring it up to date, and put right what is past.

    Raises BackupError.
    """
    manifest = backup.manifest
    check_kind(manifest)
    load(settings.DATA_DIR / "database")
    (settings.DATA_DIR / "database").unlink(missing_ok=True)
    check_rows(manifest, say)
    put_files_back()
    left_out = json.loads((settings.DATA_DIR / LEFT_OUT).read_text(encoding="utf-8"))
    (settings.DATA_DIR / LEFT_OUT).unlink()
    check_files({*manifest.missing, *left_out}, say)
    call_command("migrate", verbosity=0, interactive=False)
    say("The database is brought up to this version's form.")
    settle_past(manifest, say)
    tell_missing(left_out, say)


def check_kind(manifest: Manifest) -> None:
    """Raise BackupError when this portal cannot take this database."""
    if manifest.database != connection.vendor:
        raise BackupError(
            f"The backup is of {manifest.database}, and DATABASE_URL names {connection.vendor}."
        )
    if newer := unknown_migrations(manifest.migrations):
        raise BackupError(f"The backup is of a newer portal ({newer[0]}). Update this one first.")


def check_rows(manifest: Manifest, say: Say) -> None:
    """Compare how many rows each table holds. Raises BackupError."""
    counted = count_rows()
    if other := {table for table in counted.keys() | manifest.rows.keys()
                 if counted.get(table) != manifest.rows.get(table)}:  # fmt: skip
        raise BackupError(f"Not as many rows as in the backup: {', '.join(sorted(other))}.")
    say(f"{sum(counted.values())} rows in {len(counted)} tables, as in the backup.")


def put_files_back() -> None:
    """Move what was unpacked into the store. Raises OSError."""
    unpacked = settings.DATA_DIR / UNPACKED
    for path in sorted(unpacked.rglob("*")):
        if path.is_file():
            store().put_back(path, str(path.relative_to(unpacked)))
            path.unlink()
    shutil.rmtree(unpacked, ignore_errors=True)


def check_files(missing: set[str], say: Say) -> None:
    """Compare each file in the store with its row. Raises BackupError, OSError."""
    named = [file for file in stored_files() if file.name not in missing]
    for file in named:
        if not is_well(file):
            raise BackupError(f"{file.name} is not what its row says.")
    say(f"{len(named)} files in the store are what their rows say.")


def tell_missing(names: list[str], say: Say) -> None:
    """Say whose work of which day the files are that could not be brought back."""
    lost = sorted({(child, day) for _name, child, day in whose_files(names)})
    for child, day in lost:
        say(f"Missing, since it is damaged: something of child {child}, work of {day}.")
    if names:
        say(f"{len(names)} files are missing. scrub --mend brings them from another backup.")


def settle_past(manifest: Manifest, say: Say) -> None:
    """Do what must follow a restore: erase and end again, close ways in, drop files."""
    listed = settings.DATA_DIR / ERASURES
    if listed.exists():
        listed.replace(erasure_list.path())
    erasure_list.merge()
    restored = Restored(manifest.taken_at, tuple(erasure_list.read(erasure_list.path())))
    before = {file.name for file in stored_files()}
    for sentence in after_restore(restored):
        say(sentence)
    left = before - {file.name for file in stored_files()}
    store().remove(sorted(left))
    say(f"{len(left)} files that belong to nothing any more are deleted.")

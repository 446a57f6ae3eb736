"""The second half of a restore, run where the settings have their data in the staging folder."""

from collections.abc import Callable
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.db.migrations.loader import MigrationLoader

from portal.upkeep import erasures
from portal.upkeep.backups import Backup, BackupError, Manifest
from portal.upkeep.hooks import Restored, after_restore, stored_files
from portal.upkeep.sealing import sha256_of
from portal.upkeep.snapshots import count_rows, load

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
    check_files(manifest, say)
    call_command("migrate", verbosity=0, interactive=False)
    say("The database is brought up to this version's form.")
    settle_past(manifest, say)


def check_kind(manifest: Manifest) -> None:
    """Raise BackupError when this portal cannot take this database."""
    if manifest.database != connection.vendor:
        raise BackupError(
            f"The backup is of {manifest.database}, and DATABASE_URL names {connection.vendor}."
        )
    known = set(MigrationLoader(None).disk_migrations)
    own = {app for app, _name in known}
    done = [tuple(each.split(".", 1)) for each in manifest.migrations]
    if newer := [each for each in done if each[0] in own and each not in known]:
        raise BackupError(f"The backup is of a newer portal ({newer[0]}). Update this one first.")


def check_rows(manifest: Manifest, say: Say) -> None:
    """Compare how many rows each table holds. Raises BackupError."""
    counted = count_rows()
    if other := {table for table in counted.keys() | manifest.rows.keys()
                 if counted.get(table) != manifest.rows.get(table)}:  # fmt: skip
        raise BackupError(f"Not as many rows as in the backup: {', '.join(sorted(other))}.")
    say(f"{sum(counted.values())} rows in {len(counted)} tables, as in the backup.")


def check_files(manifest: Manifest, say: Say) -> None:
    """Compare each file on the disk with its row. Raises BackupError."""
    checked = 0
    for file in stored_files():
        path = Path(settings.MEDIA_ROOT) / file.name
        if file.name in manifest.missing:
            continue
        if not path.is_file() or sha256_of(path) != file.sha256:
            raise BackupError(f"{file.name} is not what its row says.")
        checked += 1
    say(f"{checked} files on the disk are what their rows say.")


def settle_past(manifest: Manifest, say: Say) -> None:
    """Do what must follow a restore: erase again, close ways in, silence mails, drop files."""
    listed = settings.DATA_DIR / "erasures"
    if listed.exists():
        listed.replace(erasures.path())
    restored = Restored(manifest.taken_at, tuple(erasures.read(erasures.path())))
    for sentence in after_restore(restored):
        say(sentence)
    media = Path(settings.MEDIA_ROOT)
    spoken_of = {media / file.name for file in stored_files()}
    left = [path for path in media.rglob("*") if path.is_file() and path not in spoken_of]
    for path in left:
        path.unlink()
    say(f"{len(left)} files that belong to nothing any more are deleted.")

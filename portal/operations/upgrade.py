"""Before a newer program changes the database: is it not the older one, and is there a copy?"""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.utils import timezone

from portal.operations.backup.finished import STAMP, BackupError
from portal.operations.backup.snapshots import (
    copy_sqlite,
    migrations_done,
    run_postgres,
    unknown_migrations,
)
from portal.supervisor.preparing import migrations_are_due

KEPT = 2  # copies
NAME = "before-update-"


def refuse_newer() -> None:
    """Raise BackupError when a newer program than this one has changed the database."""
    if newer := unknown_migrations(migrations_done()):
        raise BackupError(
            f"The data is of a newer version than this program ({newer[0]} is not known here). "
            "Install the newer one again, or bring back a backup from before the update. "
            "Nothing was changed."
        )


def copy_before(say: Callable[[str], None]) -> None:
    """Copy a database that is about to be migrated, beside it; of these the newest are kept.

    SQLite always; raises OSError, BackupError when there is no copy. PostgreSQL where pg_dump is
    at hand: a server has its own backups, and only a sentence tells of a copy that could not be.
    """
    if not migrations_done() or not migrations_are_due():
        return
    target = settings.DATA_DIR / f"{NAME}{timezone.now().strftime(STAMP)}"
    aside = settings.DATA_DIR / f"{NAME}making"
    try:
        copy_database(aside)
    except BackupError as error:
        aside.unlink(missing_ok=True)
        if connection.vendor == "sqlite":
            raise
        say(f"No copy was made before the update, so rely on the last backup: {error}")
        return
    aside.replace(target)
    say(f"Before the update the database was copied to {target}.")
    for old in copies()[:-KEPT]:
        old.unlink()


def copy_database(target: Path) -> None:
    """Copy the database to *target*, which nobody else can read. Raises BackupError, OSError."""
    target.unlink(missing_ok=True)
    target.touch(mode=0o600)
    if connection.vendor == "postgresql":
        run_postgres("pg_dump", "--format=custom", "--no-owner", f"--file={target}")
        return
    connection.ensure_connection()
    try:
        copy_sqlite(connection.connection, target)
    except connection.Database.Error as error:
        raise BackupError(f"the database could not be copied to {target} ({error}).") from error


def copies() -> list[Path]:
    """List the copies, the oldest first."""
    return sorted(settings.DATA_DIR.glob(f"{NAME}*Z"))


def drop_old(oldest: dt.datetime) -> None:
    """Delete the copies from before *oldest*: what was erased since must be gone from them too."""
    for path in copies():
        taken_at = dt.datetime.strptime(path.name.removeprefix(NAME), STAMP).replace(tzinfo=dt.UTC)
        if taken_at < oldest:
            path.unlink()

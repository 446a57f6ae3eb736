"""The database at one moment: taken while the portal runs, read, and put back where there is none.

SQLite by its online backup, PostgreSQL by pg_dump and pg_restore at an exported snapshot.
"""

import os
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from django.db import connection, connections, transaction
from django.db.migrations.recorder import MigrationRecorder

from portal.upkeep.backups import BackupError

ASIDE = "snapshot"  # the alias under which a copy of an SQLite database is read


@contextmanager
def snapshot(target: Path) -> Iterator[str]:
    """Copy the database to *target*; meanwhile give the alias that reads just what was copied.

    Raises BackupError, OSError.
    """
    if connection.vendor == "sqlite":
        copy_sqlite(target)
        with reading(target):
            check_sound(ASIDE)
            yield ASIDE
    elif connection.vendor == "postgresql":
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            cursor.execute("SELECT pg_export_snapshot()")
            run_postgres("pg_dump", "--format=custom", f"--snapshot={cursor.fetchone()[0]}",
                         "--no-owner", "--no-privileges", f"--file={target}")  # fmt: skip
            yield connection.alias
    else:
        raise BackupError(f"{connection.vendor} is backed up by its own tools, not by this one.")


def copy_sqlite(target: Path) -> None:
    """Copy the SQLite database to *target*, into one file."""
    connection.ensure_connection()
    with closing(sqlite3.connect(target)) as copy:
        connection.connection.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")


def check_sound(using: str) -> None:
    """Raise BackupError when the SQLite database *using* is damaged."""
    with connections[using].cursor() as cursor:  # Its indexes use functions that Django brings.
        cursor.execute("PRAGMA integrity_check")
        if cursor.fetchone()[0] != "ok":
            raise BackupError("The database is damaged: PRAGMA integrity_check does not say ok.")


@contextmanager
def reading(path: Path) -> Iterator[None]:
    """Let the SQLite database at *path* be read under the alias ASIDE."""
    own = connections.databases[connection.alias]
    connections.databases[ASIDE] = {**own, "NAME": str(path), "OPTIONS": {}}
    try:
        yield
    finally:
        connections[ASIDE].close()
        del connections[ASIDE]
        del connections.databases[ASIDE]


def count_rows(using: str = "default") -> dict[str, int]:
    """Give how many rows each table holds."""
    there = connections[using]
    with there.cursor() as cursor:
        counts = {}
        for table in sorted(there.introspection.table_names(cursor)):
            cursor.execute(f"SELECT count(*) FROM {there.ops.quote_name(table)}")  # noqa: S608
            counts[table] = cursor.fetchone()[0]
    return counts


def migrations_done(using: str = "default") -> list[str]:
    """Give the migrations that the database has seen, as "app.name"."""
    done = MigrationRecorder(connections[using]).applied_migrations()
    return sorted(f"{app}.{name}" for app, name in done)


def load(source: Path) -> None:
    """Put the copy at *source* where the settings say the database is.

    Raises BackupError when there is one already, or when it does not come about.
    """
    if connection.vendor == "sqlite":
        target = Path(connection.settings_dict["NAME"])
        if target.exists():
            raise BackupError(f"There is a database already: {target}. Nothing was changed.")
        source.replace(target)
        return
    with connection.cursor() as cursor:
        if connection.introspection.table_names(cursor):
            raise BackupError("The database of DATABASE_URL is not empty. Nothing was changed.")
    name = connection.settings_dict["NAME"]
    run_postgres("pg_restore", "--exit-on-error", "--single-transaction", "--no-owner",
                 "--no-privileges", f"--dbname={name}", str(source))  # fmt: skip


def run_postgres(program: str, *options: str) -> None:
    """Run one of PostgreSQL's own programs on the database. Raises BackupError."""
    own: dict[str, Any] = connection.settings_dict
    _arguments, secrets = connection.client.settings_to_cmd_args_env(own, [])
    names = {"PGHOST": "HOST", "PGPORT": "PORT", "PGUSER": "USER", "PGDATABASE": "NAME"}
    told = {name: str(own[key]) for name, key in names.items() if own[key]}
    environment = {**os.environ, **(secrets or {}), **told}
    try:
        ran = subprocess.run(
            [program, *options], env=environment, capture_output=True, text=True, check=False
        )
    except FileNotFoundError as error:
        hint = f"{program} is not here: install PostgreSQL's client programs (postgresql-client)."
        raise BackupError(hint) from error
    if ran.returncode:
        raise BackupError(f"{program} did not work: {ran.stderr.strip()}")

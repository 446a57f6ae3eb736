"""The database at one moment: taken while the portal runs, read, and put back where there is none.

SQLite by its online backup, PostgreSQL by pg_dump and pg_restore at an exported snapshot.
"""

import os
import sqlite3
import subprocess
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from django.apps import apps
from django.conf import settings
from django.db import connection, connections, transaction
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from portal.operations.backup.finished import BackupError

ASIDE = "aside"  # the alias of a second connection to the database, or to a copy of it


@contextmanager
def one_moment(while_quiet: Callable[[], None]) -> Iterator[None]:
    """Show, under the alias ASIDE, the database as it is at one moment.

    Nobody writes from that moment until *while_quiet*, which must be short, has run: a file whose
    row is seen cannot be deleted before. Raises BackupError, django.db.Error.
    """
    if connection.vendor not in ("sqlite", "postgresql"):
        raise BackupError(f"{connection.vendor} is backed up by its own tools, not by this one.")
    own = connection.settings_dict
    deferred = {"transaction_mode": "DEFERRED"} if connection.vendor == "sqlite" else {}
    with (
        reached(own["NAME"], {**own["OPTIONS"], **deferred}),
        transaction.atomic(using=ASIDE, savepoint=False),
    ):
        with transaction.atomic(), connection.cursor() as cursor:
            # SQLite holds other writers off from the start of a transaction.
            if connection.vendor == "postgresql":
                cursor.execute(f"LOCK TABLE {file_tables()} IN SHARE MODE")
            begin_reading()
            while_quiet()
        yield


def file_tables() -> str:
    """Return the tables without whose change no file comes or goes, as SQL names them."""
    models = map(apps.get_model, settings.FILE_OWNERS)
    return ", ".join(connection.ops.quote_name(model._meta.db_table) for model in models)


def begin_reading() -> None:
    """Fix the moment that ASIDE shows."""
    with connections[ASIDE].cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        cursor.execute("SELECT count(*) FROM django_migrations")


def copy_to(target: Path) -> None:
    """Copy what ASIDE shows to the file *target*. Raises BackupError, OSError."""
    there = connections[ASIDE]
    if there.vendor == "sqlite":
        copy_sqlite(there.connection, target)
        return
    with there.cursor() as cursor:
        cursor.execute("SELECT pg_export_snapshot()")
        moment = cursor.fetchone()[0]
    run_postgres("pg_dump", "--format=custom", f"--snapshot={moment}", "--no-owner",
                 "--no-privileges", f"--file={target}")  # fmt: skip


def copy_sqlite(source: sqlite3.Connection, target: Path) -> None:
    """Copy the database of *source* to the file *target*, in one piece. Raises sqlite3.Error."""
    with closing(sqlite3.connect(target)) as copy:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")


def check_copy(target: Path) -> None:
    """Raise BackupError when the copy of an SQLite database at *target* is not sound."""
    if connection.vendor != "sqlite":
        return
    with reached(str(target), {}), connections[ASIDE].cursor() as cursor:
        cursor.execute("PRAGMA integrity_check")  # Its indexes use functions that Django brings.
        if cursor.fetchone()[0] != "ok":
            raise BackupError("The database is damaged: PRAGMA integrity_check does not say ok.")


@contextmanager
def reached(name: str, options: dict[str, Any], **of_another: Any) -> Iterator[None]:
    """Let the database *name* be reached under the alias ASIDE, *of_another* server if given."""
    own = connection.settings_dict
    connections.databases[ASIDE] = {**own, **of_another, "NAME": name, "OPTIONS": options}
    try:
        yield
    finally:
        connections[ASIDE].close()
        del connections[ASIDE]
        del connections.databases[ASIDE]


def count_rows(using: str = "default") -> dict[str, int]:
    """Return how many rows each table holds."""
    there = connections[using]
    with there.cursor() as cursor:
        counts = {}
        for table in sorted(there.introspection.table_names(cursor)):
            cursor.execute(f"SELECT count(*) FROM {there.ops.quote_name(table)}")  # noqa: S608
            counts[table] = cursor.fetchone()[0]
    return counts


def migrations_done(using: str = "default") -> list[str]:
    """Return the migrations that the database has seen, as "app.name"."""
    done = MigrationRecorder(connections[using]).applied_migrations()
    return sorted(f"{app}.{name}" for app, name in done)


def unknown_migrations(done: Iterable[str]) -> list[str]:
    """Return those of the migrations *done*, as "app.name", that only a newer portal knows."""
    here = MigrationLoader(None).disk_migrations
    known = {*here, *(old for migration in here.values() for old in migration.replaces)}
    own = {app for app, _name in here}
    named = [(each, (each.split(".", 1)[0], each.split(".", 1)[1])) for each in done]
    return [each for each, key in named if key[0] in own and key not in known]


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
    address = {name: str(own[key]) for name, key in names.items() if own[key]}
    environment = {**os.environ, **(secrets or {}), **address}
    try:
        ran = subprocess.run(
            [program, *options], env=environment, capture_output=True, text=True, check=False
        )
    except FileNotFoundError as error:
        hint = f"{program} is not here: install PostgreSQL's client programs (postgresql-client)."
        raise BackupError(hint) from error
    if ran.returncode:
        raise BackupError(f"{program} did not work: {ran.stderr.strip()}")

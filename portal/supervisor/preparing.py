"""What has to be brought up to date before a start, and what has not changed since the last."""

import hashlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import django
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

ROOT = Path(__file__).resolve().parents[2]
PARTS = ("portal", "tasks", "evidence", "assessment")
LIBRARIES = Path(django.__file__).resolve().parents[1]


def version() -> str:
    """Return a digest of this program: its files by size and time, its libraries, its Python."""
    digest = hashlib.sha256(sys.version.encode())
    for line in sorted(lines_of_program()):
        digest.update(os.fsencode(line))
    return digest.hexdigest()


def lines_of_program() -> Iterator[str]:
    """Yield a line for each file that the program is made of, and each library it has."""
    for part in PARTS:
        for path in (ROOT / part).rglob("*.*"):
            if path.suffix not in (".pyc", ".po"):
                found = path.stat()
                yield f"{path} {found.st_size} {found.st_mtime_ns}\n"
    yield from (f"{each.name}\n" for each in LIBRARIES.glob("*.dist-info"))


def is_unchanged(data: Path) -> bool:
    """Whether *data* was prepared by this very program, and its static files are still there."""
    try:
        noted = (data / "prepared-by").read_text()
    except OSError:
        return False
    return noted == version() and (data / "static").is_dir()


def is_due(data: Path) -> bool:
    """Whether *data* is new, or anything has changed since it was prepared."""
    return not is_unchanged(data) or migrations_are_due()


def note(data: Path) -> None:
    """Note in *data* that this program has prepared all of it."""
    (data / "prepared-by").write_text(version())


def migrations_are_due() -> bool:
    """Whether the database lacks a migration. Asks the database itself, each time."""
    executor = MigrationExecutor(connection)
    return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))

"""A program that is newer than its data brings it along; one that is older leaves it alone.

older_data.tar.xz is the data folder of a portal from before erasures were in the database, when all
migrations were those of the first release: `prepare`, then `tests.portal.operations.filled` with
three photos, a tick, the youngest child erased, the week summed up and one piece tagged; without
static files and without its secret key.
"""

import datetime as dt
import sqlite3
import tarfile
from contextlib import closing
from pathlib import Path

import pytest
from django.utils import timezone
from freezegun import freeze_time

from portal.data_protection.jobs import purge_schools
from portal.operations import upgrade
from portal.operations.backup.finished import STAMP
from tests.closing import OTHER_DATABASE
from tests.portal.operations.machine import SERVER, Machine

OLDER = Path(__file__).with_name("older_data.tar.xz")
NEWER = (
    "from django.db.migrations.recorder import MigrationRecorder as Recorder;"
    "from django.db import connection;"
    "Recorder(connection).record_applied('evidence', '9999_from_the_future')"
)

# Claims that rows keep in another way now: tests/portal/jobs/test_rows_of_before.py follows them.
CARRIED_OVER = {
    # Of a published framework: as this program knows it.
    "assessment_framework": {"title", "notice", "stem", "publisher", "edition", "source"},
    "assessment_goal": {"kinds", "position", "strand", "text", "note"},
    "assessment_summarymail": {"claimed_at", "sent_at"},
    "people_invitation": {"mail_claimed_at"},
    "people_staffpost": {"link_claimed_at"},
    "privacy_copy": {"claimed_at"},
    "privacy_night": {"claimed_at"},
}


def rows_of(database: Path) -> dict[str, list[tuple]]:
    """Return every row of every table in the SQLite file *database*."""
    with closing(sqlite3.connect(database)) as there:
        there.row_factory = sqlite3.Row
        tables = [name for (name,) in there.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
        )]  # fmt: skip
        return {
            table: [dict(row) for row in there.execute(f"SELECT * FROM {table} ORDER BY 1")]
            for table in tables
        }


@pytest.fixture
def older(new_machine, tmp_path) -> Machine:
    """Return a machine with the data of an older portal."""
    if SERVER:
        pytest.skip(OTHER_DATABASE)
    with tarfile.open(OLDER) as packed:
        # Debian's Python 3.11.2 has no filters yet.
        only_data = {"filter": "data"} if hasattr(tarfile, "data_filter") else {}
        packed.extractall(tmp_path, **only_data)  # noqa: S202 - an archive of our own
    return new_machine("older_data")


def test_an_older_data_folder_is_brought_along_with_every_row(older):
    database = older.data / "kitchen-counter.sqlite3"
    before = rows_of(database)
    assert len(before["people_child"]) > 2
    assert len(before["evidence_rendition"]) > 5
    assert before["assessment_tag"]
    assert before["assessment_weeksummary"]
    said = older.does("prepare")
    after = rows_of(database)
    for table in before.keys() - {"django_content_type", "django_migrations", "upkeep_mark"}:
        told = {key for row in before[table][:1] for key in row} - CARRIED_OVER.get(table, set())
        kept = [{key: row.get(key) for key in told} for row in after[table]]
        earlier = [{key: row[key] for key in told} for row in before[table]]
        assert [row for row in earlier if row not in kept] == [], table
    assert {row["name"] for row in after["upkeep_mark"]} == {"tick", "clock"}
    assert [row["model"] for row in after["upkeep_gone"]] == ["people.child"] * 2
    assert "Every stored file" in older.does("scrub")
    (copy,) = older.data.glob("before-update-*")
    assert str(copy) in said
    assert rows_of(copy) == before
    assert not copy.stat().st_mode & 0o077


def test_only_two_copies_from_before_updates_are_kept_and_none_where_nothing_is_due(older):
    for year in (2024, 2025):
        (older.data / f"before-update-{year}-01-02T030405Z").touch()
    older.does("prepare")
    older.does("prepare")
    found = sorted(path.name for path in older.data.glob("before-update-*"))
    assert len(found) == 2
    assert found[0] == "before-update-2025-01-02T030405Z"


@pytest.mark.servers
@pytest.mark.parametrize("command", ["prepare", "serve"])
def test_data_of_a_newer_version_is_refused_with_a_sentence_and_left_as_it_was(machine, command):
    machine.python(NEWER)
    before = machine.ask("SELECT * FROM django_migrations ORDER BY id")
    machine.more = {"EMAIL_URL": "smtp://127.0.0.1:9"}
    ran = machine.manage(command, *(["--port", "28417"] if command == "serve" else []))
    assert ran.code == 1
    assert "newer version than this program (evidence.9999_from_the_future" in ran.said
    assert "Traceback" not in ran.said
    assert machine.ask("SELECT * FROM django_migrations ORDER BY id") == before


@pytest.mark.django_db(transaction=True)
def test_what_was_erased_is_out_of_those_copies_as_soon_as_out_of_backups(
    village, settings, tmp_path
):
    settings.DATA_DIR = tmp_path
    days = {
        age: tmp_path / f"before-update-{timezone.now() - dt.timedelta(days=age):{STAMP}}"
        for age in (34, 36)
    }
    for path in days.values():
        path.touch()
    with freeze_time(timezone.now().replace(hour=12)):
        purge_schools()
    assert upgrade.copies() == [days[34]]


@pytest.mark.servers
def test_a_copy_that_cannot_be_made_stops_the_update_of_sqlite_and_is_told_of_elsewhere(
    machine, tmp_path
):
    machine.python(
        "from django.db.migrations.recorder import MigrationRecorder as Recorder;"
        "from django.db import connection;"
        "recorder = Recorder(connection);"
        "newest = recorder.migration_qs.filter(app='upkeep').latest('name');"
        "recorder.record_unapplied('upkeep', newest.name)"
    )
    for name in ("psql", "pg_dump"):
        (tmp_path / name).write_text("#!/bin/sh\necho no >&2; exit 1\n")
        (tmp_path / name).chmod(0o700)
    machine.more = {"PATH": f"{tmp_path}:/usr/bin:/bin"}
    if SERVER:
        assert "No copy was made before the update" in machine.manage("prepare").said
        return
    (machine.data / "before-update-making").mkdir()
    ran = machine.manage("prepare")
    assert ran.code == 1
    assert "Not brought up to date" in ran.said
    assert "Traceback" not in ran.said

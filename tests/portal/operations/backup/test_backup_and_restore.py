"""A backup comes back whole, on a machine that has nothing; it is never put over anything."""

import subprocess
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.closing import OTHER_DATABASE
from tests.portal.operations.machine import SERVER

KEPT_TABLES = (
    *("people_child", "people_home", "people_guardianship", "people_user", "people_school"),
    *("tasks_dayplan", "tasks_task", "tasks_taskprompt"),
    *("evidence_submission", "evidence_piece", "evidence_rendition", "evidence_answer"),
)


def rows(machine, table: str) -> list[tuple]:
    """Return every row of *table*."""
    return sorted(machine.ask(f"SELECT * FROM {table}"), key=repr)


def restored(machine, new_machine, repository: Path, *more: str | Path):
    """Restore the newest backup of *repository* onto a machine that has nothing."""
    other = new_machine("other")
    said = other.does("restore", repository, "--data", other.data, *more)
    return other, said


@pytest.mark.servers
def test_a_restored_portal_has_every_row_and_every_byte(machine, new_machine, tmp_path):
    before = {table: rows(machine, table) for table in KEPT_TABLES}
    machine.does("backup", tmp_path / "repository")
    other, said = restored(machine, new_machine, tmp_path / "repository")
    assert {table: rows(other, table) for table in KEPT_TABLES} == before
    assert all(before[table] for table in ("people_child", "evidence_rendition", "tasks_task"))
    assert other.files() == machine.files()
    assert len(machine.files()) > 80
    assert "as in the backup" in said
    assert "files in the store are what their rows say" in said


def test_what_was_restored_can_be_looked_over_backed_up_and_used(machine, new_machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    other, _said = restored(machine, new_machine, tmp_path / "repository")
    assert other.does("migrate", "--check", "--verbosity", "0") == ""
    assert "Every stored file" in other.does("scrub")
    other.does("backup", tmp_path / "again")
    assert not {path.name for path in other.data.iterdir()} & {"restoring", "unpacked", "database"}


def test_a_second_backup_copies_only_the_files_that_are_new(machine, tmp_path):
    repository = tmp_path / "repository"
    machine.does("backup", repository)
    first = {path: path.stat().st_ino for path in repository.glob("files/*/*")}
    machine.run(*machine.command()[:1], "-m", "tests.portal.operations.one_more")
    machine.does("backup", repository)
    second = {path: path.stat().st_ino for path in repository.glob("files/*/*")}
    assert len(second) == len(first) + 1
    assert {path: second[path] for path in first} == first
    assert len(list(repository.glob("20*"))) == 2


def test_a_folder_that_is_not_empty_is_refused_and_left_as_it_was(machine, new_machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    other = new_machine("other")
    other.data.mkdir()
    (other.data / "holiday.txt").write_text("mine")
    ran = other.manage("restore", tmp_path / "repository", "--data", other.data)
    assert ran.code != 0
    assert "is not empty" in ran.said
    assert "holiday.txt" in {path.name for path in other.data.iterdir()}
    assert "media" not in {path.name for path in other.data.iterdir()}


@pytest.mark.servers
def test_a_database_that_is_there_is_never_overwritten(machine, new_machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    address = machine.url or f"sqlite:///{machine.data}/kitchen-counter.sqlite3"
    before = rows(machine, "people_child")
    other = new_machine("other")
    command = other.command("restore", tmp_path / "repository", "--data", other.data)
    ran = other.run(*command, DATABASE_URL=address)
    assert ran.code != 0
    assert "Nothing was changed" in ran.said
    assert rows(machine, "people_child") == before


@pytest.mark.parametrize(
    "pattern",
    ["files/*/*", "20*/database", "20*/manifest.json", "20*/files.jsonl", "20*/SHA256SUMS"],
)
def test_one_flipped_byte_is_found_and_the_file_named(machine, tmp_path, pattern):
    machine.does("backup", tmp_path / "repository")
    victim = sorted((tmp_path / "repository").glob(pattern))[0]
    spoilt = bytearray(victim.read_bytes())
    spoilt[len(spoilt) // 2] ^= 1
    victim.write_bytes(spoilt)
    ran = machine.manage("restore", tmp_path / "repository", "--data", tmp_path / "other")
    assert ran.code != 0
    assert "not whole" in ran.said
    named = victim.name if victim.name != "SHA256SUMS" else victim.parent.name
    assert named in ran.said
    assert not (tmp_path / "other").exists()


def test_a_backup_that_is_whole_passes_the_check_that_finds_a_flipped_byte(machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    assert "just as they were written" in machine.does(
        "restore", tmp_path / "repository", "--check"
    )


def test_only_the_newest_backups_are_kept_and_their_files_with_them(machine, tmp_path):
    repository = tmp_path / "repository"
    machine.does("backup", repository)
    machine.python("from evidence.models import Rendition; Rendition.objects.all().delete()")
    machine.does("backup", repository, "--keep", "2")
    both = len(list(repository.glob("files/*/*")))
    machine.does("backup", repository, "--keep", "2")
    assert len(list(repository.glob("20*"))) == 2
    assert both > 40
    assert len(list(repository.glob("files/*/*"))) == 1  # the original that was not ready yet
    assert machine.does("restore", repository, "--check")


def test_a_backup_older_than_deleted_data_may_be_kept_is_dropped(machine, tmp_path):
    repository = tmp_path / "repository"
    machine.does("backup", repository)
    next(repository.glob("20*")).rename(repository / "2026-01-02T030405Z")
    machine.does("backup", repository)
    assert not (repository / "2026-01-02T030405Z").exists()
    assert len(list(repository.glob("20*"))) == 1


def test_two_backups_to_one_folder_do_not_meet(machine, tmp_path):
    repository = tmp_path / "repository"
    machine.does("backup", repository)
    with subprocess.Popen(
        ["flock", str(repository / "lock"), "cat"], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as holder:
        holder.stdin.write(b"held\n")
        holder.stdin.flush()
        assert holder.stdout.readline() == b"held\n"
        ran = machine.manage("backup", repository)
        holder.stdin.close()
    assert ran.code != 0
    assert "Another backup" in ran.said
    assert len(list(repository.glob("20*"))) == 1


@pytest.mark.servers
def test_a_drill_restores_for_real_and_leaves_nothing_but_its_date(machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    before = rows(machine, "people_child"), machine.files()
    said = machine.does("restore", tmp_path / "repository", "--drill")
    assert "as in the backup" in said
    assert (rows(machine, "people_child"), machine.files()) == before
    assert machine.ask("SELECT count(*) FROM upkeep_mark WHERE name = 'drill'") == [(1,)]


@pytest.mark.servers
@pytest.mark.skipif(not SERVER, reason=OTHER_DATABASE)
def test_a_role_that_may_make_no_database_is_told_so_by_the_drill(machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    role = f"plain_{machine.database}"
    machine.on_server(f"CREATE ROLE \"{role}\" LOGIN PASSWORD 'plain'")
    try:
        machine.on_server(f'GRANT "{role}" TO CURRENT_USER')  # Only so may it be made the owner.
        machine.on_server(f'ALTER DATABASE "{machine.database}" OWNER TO "{role}"')
        port = urlsplit(machine.url).port or 5432
        address = (
            f"postgres://{role}:plain@{urlsplit(machine.url).hostname}:{port}/{machine.database}"
        )
        command = machine.command("restore", tmp_path / "repository", "--drill")
        ran = machine.run(*command, DATABASE_URL=address)
    finally:
        machine.drop()
        machine.on_server(f'DROP ROLE "{role}"')
    assert ran.code == 1
    assert "CREATEDB" in ran.said
    assert "Traceback" not in ran.said


def test_a_backup_of_a_newer_portal_is_refused(machine, new_machine, tmp_path):
    machine.python(
        "from django.db.migrations.recorder import MigrationRecorder as Recorder;"
        "from django.db import connection;"
        "Recorder(connection).record_applied('evidence', '9999_from_the_future')"
    )
    machine.does("backup", tmp_path / "repository")
    other = new_machine("other")
    ran = other.manage("restore", tmp_path / "repository", "--data", other.data)
    assert ran.code != 0
    assert "newer portal" in ran.said


def test_a_backup_from_before_the_first_release_is_taken(machine, new_machine, tmp_path):
    machine.python(
        "from django.db import connection;"
        "from django.db.migrations.loader import MigrationLoader;"
        "from django.db.migrations.recorder import MigrationRecorder;"
        "recorder = MigrationRecorder(connection);"
        "here = MigrationLoader(None).disk_migrations.items();"
        "[recorder.record_unapplied(*key) for key, each in here if each.replaces];"
        "[recorder.record_applied(*old) for _key, each in here for old in each.replaces]"
    )
    machine.does("backup", tmp_path / "repository")
    other = new_machine("other")
    assert "as in the backup" in other.does(
        "restore", tmp_path / "repository", "--data", other.data
    )
    assert rows(other, "people_child") == rows(machine, "people_child")

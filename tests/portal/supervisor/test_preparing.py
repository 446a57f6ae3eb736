"""A later start does again only what has changed, and never leaves out a migration that is due."""

import pytest
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from portal.supervisor import preparing
from tests.stack import Stack

MANIFEST = "static/staticfiles.json"


@pytest.fixture
def prepared(tmp_path):
    """Give a data folder that is as this program would leave it."""
    (tmp_path / "static").mkdir()
    preparing.note(tmp_path)
    return tmp_path


@pytest.mark.django_db
def test_nothing_is_due_where_nothing_has_changed(prepared):
    assert not preparing.is_due(prepared)


@pytest.mark.django_db
def test_a_migration_is_due_whatever_the_folder_says(prepared):
    name = max(
        name for app, name in MigrationRecorder(connection).applied_migrations() if app == "axes"
    )
    MigrationRecorder(connection).record_unapplied("axes", name)
    assert preparing.is_unchanged(prepared)
    assert preparing.is_due(prepared)


@pytest.mark.parametrize("part", ["portal/static/portal/css", "assessment/frameworks"])
def test_a_changed_file_of_the_program_is_seen(prepared, tmp_path, monkeypatch, part):
    copy = tmp_path / "copy"
    for each in preparing.PARTS:
        (copy / each).mkdir(parents=True)
    changed = copy / part / "a.file"
    changed.parent.mkdir(parents=True, exist_ok=True)
    monkeypatch.setattr(preparing, "ROOT", copy)
    changed.write_text("one")
    preparing.note(prepared)
    assert preparing.is_unchanged(prepared)
    changed.write_text("another")
    assert not preparing.is_unchanged(prepared)


def test_static_files_that_are_gone_are_collected_again(prepared):
    (prepared / "static").rmdir()
    assert not preparing.is_unchanged(prepared)


def test_another_version_of_a_library_is_seen(prepared, tmp_path, monkeypatch):
    (tmp_path / "libraries" / "one-1.0.dist-info").mkdir(parents=True)
    monkeypatch.setattr(preparing, "LIBRARIES", tmp_path / "libraries")
    assert not preparing.is_unchanged(prepared)


@pytest.mark.stack
def test_prepared_once_the_command_collects_nothing_again_until_something_changes(tmp_path):
    stack = Stack(tmp_path / "data", "serve").prepare()
    collected = (stack.data / MANIFEST).stat().st_mtime_ns
    stack.manage("prepare")
    assert (stack.data / MANIFEST).stat().st_mtime_ns == collected
    (stack.data / "prepared-by").unlink()
    stack.manage("prepare")
    assert (stack.data / MANIFEST).stat().st_mtime_ns > collected

"""A folder of backups that a disk spoils: found, healed, and the rest of it brought back."""

import datetime as dt
import hashlib
import re
from pathlib import Path

import pytest

from portal.operations.backup.finished import Backup, BackupError, Manifest, list_backups
from portal.operations.backup.repository import TURNS, BackupRepository, turn_of
from portal.operations.hooks import StoredFile
from tests.portal.operations.machine import Machine


def flip(path: Path) -> None:
    """Flip a byte in the middle of the file at *path*."""
    spoilt = bytearray(path.read_bytes())
    spoilt[len(spoilt) // 2] ^= 1
    path.write_bytes(spoilt)


def shared_file_of(repository: Path, role: str = "renditions") -> Path:
    """Return the first shared file of the newest backup that is of some kind."""
    kept = next(file for file in list_backups(repository)[-1].files() if file.name.startswith(role))
    return repository / kept.kept


def let_it_be_the_turn_of(path: Path, repository: Path) -> None:
    (repository / "turn").write_text(str(turn_of(path.name)))


@pytest.mark.servers
@pytest.mark.parametrize("sealed", [True, False])
def test_a_byte_that_flipped_in_a_shared_file_is_healed_in_all_backups(
    machine, new_machine, tmp_path, sealed
):
    repository, key = tmp_path / "repository", ()
    seal = ()
    if sealed:
        said = machine.does("backup_key", tmp_path / "key")
        seal, key = ("--key", re.search("age1[0-9a-z]+", said)[0]), ("--key", tmp_path / "key")
    machine.does("backup", repository, *seal)
    first = list_backups(repository)[0]
    victim = shared_file_of(repository)
    flip(victim)
    assert len(list(first.faults())) == 1
    let_it_be_the_turn_of(victim, repository)
    assert "damaged" not in machine.does("backup", repository, *seal)
    assert [list(each.faults()) for each in list_backups(repository)] == [[], []]
    other = new_machine("other")
    other.does("restore", first.folder, "--data", other.data, *key)
    assert other.files() == machine.files()


def files_of(folder: Path, count: int) -> list[StoredFile]:
    """Put files into the store at *folder*."""
    made = []
    for number in range(count):
        content = f"picture {number}".encode()
        sha256 = hashlib.sha256(content).hexdigest()
        name = f"renditions/{number:02}/{number:02}{number:038}"
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
        made.append(StoredFile(name, sha256, len(content)))
    return made


def back_up(folder: Path, live: list[StoredFile], *, keep: int = 30) -> BackupRepository:
    """Make one backup of *live*, without a database."""
    with BackupRepository(folder).held() as repository:
        repository.read_anew()
        kept = [repository.keep(file) for file in live]
        manifest = Manifest(dt.datetime.now(dt.UTC), "sqlite", False, {}, [], {}, len(kept), 0, {})
        repository.finish(repository.making(), manifest, kept)
        repository.prune(keep, dt.datetime(2026, 1, 1, tzinfo=dt.UTC))
    return repository


@pytest.fixture
def live(settings, tmp_path) -> list[StoredFile]:
    """Return a store with some files."""
    settings.MEDIA_ROOT = tmp_path / "media"
    return files_of(settings.MEDIA_ROOT, 60)


def test_all_shared_files_are_read_anew_within_fourteen_backups(live, tmp_path):
    repository = tmp_path / "repository"
    back_up(repository, live)
    for path in repository.glob("files/*/*"):
        flip(path)
    for _night in range(TURNS):
        assert back_up(repository, live).damaged == {}
    assert [list(each.faults()) for each in list_backups(repository)] == [[]] * (TURNS + 1)


def test_what_is_damaged_and_live_no_more_is_told(live, tmp_path):
    repository = tmp_path / "repository"
    back_up(repository, live)
    gone = live.pop()
    victim = repository / "files" / gone.sha256[:2] / gone.sha256
    flip(victim)
    let_it_be_the_turn_of(victim, repository)
    assert list(back_up(repository, live).damaged) == [str(victim.relative_to(repository))]


@pytest.mark.parametrize("cut", ["middle", "line end"])
def test_a_list_of_files_that_was_cut_is_an_error_and_drops_no_file(live, tmp_path, cut):
    repository = tmp_path / "repository"
    back_up(repository, live)
    listed = list_backups(repository)[0].folder / "files.jsonl"
    lines = listed.read_text().splitlines(keepends=True)
    listed.write_text("".join(lines[:30]) + (lines[30][:40] if cut == "middle" else ""))
    backup = Backup(listed.parent)
    with pytest.raises(BackupError, match=r"files\.jsonl"):
        backup.files()
    assert "files.jsonl" in next(backup.faults()).words
    with pytest.raises(BackupError, match=r"files\.jsonl"):
        back_up(repository, live[:30])
    assert len(list(repository.glob("files/*/*"))) == len(live)


@pytest.mark.servers
def test_the_rest_comes_back_and_what_is_missing_is_told_by_child_and_day(
    machine: Machine, new_machine, tmp_path
):
    repository = tmp_path / "repository"
    machine.does("backup", repository)
    files = list_backups(repository)[-1].files()
    kept = next(file for file in files if file.name.startswith("rend"))
    lost = {file.name for file in files if file.kept == kept.kept}
    flip(repository / kept.kept)
    ((child, day),) = machine.ask(
        "SELECT s.child_id, d.date FROM evidence_rendition r JOIN evidence_piece p "
        "ON p.id = r.piece_id JOIN evidence_submission s ON s.id = p.submission_id "
        f"JOIN tasks_dayplan d ON d.id = s.day_plan_id WHERE r.name = '{kept.name}'"
    )
    other = new_machine("other")
    ran = other.manage("restore", repository, "--data", other.data)
    assert ran.code == 1
    assert "--without-damaged" in ran.said
    said = other.does("restore", repository, "--data", other.data, "--without-damaged")
    assert f"{kept.kept} is damaged" in said
    assert f"child {child}, work of {day}" in said
    assert machine.files().keys() - other.files().keys() == lost
    assert other.files().items() <= machine.files().items()
    assert not (other.data / "left-out").exists()


def test_without_its_database_nothing_of_a_backup_is_brought_back(machine, tmp_path):
    machine.does("backup", tmp_path / "repository")
    flip(next((tmp_path / "repository").glob("20*/database")))
    ran = machine.manage(
        "restore", tmp_path / "repository", "--data", tmp_path / "other", "--without-damaged"
    )
    assert ran.code == 1
    assert "take another one" in ran.said
    assert not (tmp_path / "other").exists()

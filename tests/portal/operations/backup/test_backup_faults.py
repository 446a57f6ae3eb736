"""What goes wrong while a backup is made, for real: kill -9, families that send, spoilt files."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.portal.operations.machine import ROOT, Machine

pytestmark = pytest.mark.proof
SPOILT = 100
LONGEST_WAIT = 1.5  # seconds; a store with as much amiss three times over stays under five


def start(machine: Machine, *words: str | Path) -> subprocess.Popen[str]:
    """Start a process beside the test."""
    return subprocess.Popen(
        [str(word) for word in words],
        cwd=ROOT, env=machine.environment, text=True, start_new_session=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
    )  # fmt: skip


def kill_once(process: subprocess.Popen[str], is_time) -> None:
    """Kill *process* and all it started as soon as *is_time*; fail if it ends before."""
    deadline = time.monotonic() + 60
    while not is_time():
        assert process.poll() is None, (
            f"it ended before it could be killed: {process.stdout.read()}"
        )
        assert time.monotonic() < deadline
    os.killpg(process.pid, signal.SIGKILL)
    process.communicate()


def make_many_files(machine: Machine) -> None:
    """Fill the store, so that a backup takes a while."""
    machine.python(
        "from tests.evidence.builders import *;"
        "from evidence.models import Submission;"
        "one = Submission.objects.earliest('pk');"
        "[make_arrived_piece(one, os.urandom(300_000)) for _ in range(200)]"
    )


@pytest.mark.servers
@pytest.mark.parametrize("moment", ["files", "database"])
def test_a_backup_killed_in_the_middle_leaves_the_previous_one_whole(machine, tmp_path, moment):
    repository = tmp_path / "repository"
    machine.does("backup", repository)
    first = {path: path.read_bytes() for path in repository.rglob("*") if path.is_file()}
    make_many_files(machine)
    process = start(machine, *machine.command("backup", repository))
    half_way = {
        "files": lambda: len(list(repository.glob("files/*/*"))) > len(first) + 20,
        "database": lambda: (repository / "making" / "database").exists(),
    }
    kill_once(process, half_way[moment])

    assert {path: path.read_bytes() for path in first} == first
    assert len(list(repository.glob("20*"))) == 1
    assert "just as they were written" in machine.does("restore", repository, "--check")

    machine.does("backup", repository)
    assert "just as they were written" in machine.does("restore", repository, "--check")
    assert not (repository / "making").exists()
    assert not list(repository.glob("files/*/*.part"))
    assert not (machine.data / "snapshot").exists()


def test_a_restore_killed_in_the_middle_is_never_taken_for_a_portal(machine, new_machine, tmp_path):
    make_many_files(machine)
    machine.does("backup", tmp_path / "repository")
    other = new_machine("other")
    process = start(other, *other.command("restore", tmp_path / "repository", "--data", other.data))
    kill_once(process, lambda: len(list(other.data.rglob("unpacked/originals/*/*"))) > 20)
    assert not (other.data / "kitchen-counter.sqlite3").exists()
    assert not (other.data / "media").exists()
    ran = other.manage("restore", tmp_path / "repository", "--data", other.data)
    assert ran.code != 0
    assert "cut short" in ran.said


@pytest.mark.servers
def test_a_backup_taken_while_families_send_has_the_file_of_every_row(
    machine, new_machine, tmp_path
):
    busy = start(machine, sys.executable, "-m", "tests.portal.operations.busy")
    assert busy.stdout.readline() == "round\n"
    for _again in range(3):
        machine.does("backup", tmp_path / "repository")
    assert busy.poll() is None, busy.stdout.read()
    rounds = busy.communicate("stop\n")[0].count("round")
    assert rounds > 10
    other = new_machine("other")
    said = other.does("restore", tmp_path / "repository", "--data", other.data)
    assert "could not be had" not in said
    assert "Every stored file" in other.does("scrub")


@pytest.mark.servers
def test_a_backup_of_a_store_with_much_amiss_holds_no_family_up_for_long(machine, tmp_path):
    make_many_files(machine)
    spoil_many(machine)
    at_work = [
        start(machine, sys.executable, "-m", "tests.portal.operations.busy") for _each in "abc"
    ]
    for each in at_work:
        assert each.stdout.readline() == "round\n"
    ran = machine.manage("backup", tmp_path / "repository")
    assert f"{SPOILT} files could not be had" in ran.said
    slowest = [float(each.communicate("stop\n")[0].split("slowest ")[1]) for each in at_work]
    assert max(slowest) < LONGEST_WAIT, slowest


def spoil_many(machine: Machine) -> None:
    """Make large files, and flip the last byte of each: a backup reads them to their end."""
    machine.python(
        "from tests.evidence.builders import *;"
        "from evidence.storage import store;"
        "from evidence.models import Submission;"
        "one = Submission.objects.earliest('pk');"
        f"made = [make_arrived_piece(one, os.urandom(4_000_000)) for _ in range({SPOILT})];"
        "paths = [store.path_of(piece.original) for piece in made];"
        "[path.write_bytes(path.read_bytes()[:-1] + b'!!') for path in paths]"
    )


def spoil(machine: Machine) -> str:
    """Flip one byte of the original that waits, whose bytes no other file has; give its name."""
    name = machine.ask("SELECT max(original) FROM evidence_piece")[0][0]
    path = machine.data / "media" / name
    spoilt = bytearray(path.read_bytes())
    spoilt[len(spoilt) // 2] ^= 1
    path.write_bytes(spoilt)
    return name


def test_a_byte_that_flips_in_the_store_is_found_and_mended_from_the_backup(machine, tmp_path):
    before = machine.files()
    machine.does("backup", tmp_path / "repository")
    name = spoil(machine)
    ran = machine.manage("scrub")
    assert ran.code != 0
    assert name in ran.said
    assert "mended" in machine.does("scrub", "--mend", tmp_path / "repository")
    assert machine.files() == before


def test_a_spoilt_file_does_not_drive_the_good_copy_out_of_the_backup(
    machine, new_machine, tmp_path
):
    good = machine.files()
    machine.does("backup", tmp_path / "repository")
    spoil(machine)
    machine.does("backup", tmp_path / "repository", "--keep", "1")
    other = new_machine("other")
    other.does("restore", tmp_path / "repository", "--data", other.data)
    assert other.files() == good


def test_a_file_lost_before_the_first_backup_is_told_and_the_rest_is_saved(
    machine, new_machine, tmp_path
):
    name = spoil(machine)
    ran = machine.manage("backup", tmp_path / "repository")
    assert ran.code != 0
    assert name in ran.said
    other = new_machine("other")
    said = other.does("restore", tmp_path / "repository", "--data", other.data)
    assert f"{name} could not be had" in said
    assert other.files().keys() == machine.files().keys() - {name}

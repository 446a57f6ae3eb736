"""What an operator can put right is told in a sentence and exit code 1, by whichever command."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
LEAD = ("add_lead", "--email", "a@school.example", "--name", "A", "--school", "Mill Lane")


def environment(data: Path, **more: str) -> dict[str, str]:
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    return {**kept, "DATA_DIR": str(data), "DJANGO_SETTINGS_MODULE": "portal.settings", **more}


def manage(data: Path, *words: str | Path, **more: str) -> subprocess.CompletedProcess[str]:
    """Run a command of manage.py to its end."""
    return subprocess.run(
        [sys.executable, "manage.py", *map(str, words)],
        cwd=ROOT, env=environment(data, **more), capture_output=True, text=True, check=False,
    )  # fmt: skip


def check_sentence(ran: subprocess.CompletedProcess[str], told: str) -> None:
    """See that *ran* ended with 1 and a sentence that has *told* in it."""
    assert ran.returncode == 1
    assert told in ran.stderr
    assert "Traceback" not in ran.stderr
    assert len(ran.stderr.strip().splitlines()) == 1


@pytest.mark.parametrize("words", [LEAD, ("scrub",), ("backup", "REPOSITORY")])
def test_before_there_is_a_database_a_command_says_how_to_make_one(tmp_path, words):
    repository = tmp_path / "repository"
    told = [repository if word == "REPOSITORY" else word for word in words]
    check_sentence(manage(tmp_path / "data", *told), "manage.py prepare")
    assert not list(repository.glob("20*"))


@pytest.mark.parametrize("words", [("prepare",), LEAD, ("serve",)])
def test_a_data_folder_that_is_none_is_named(tmp_path, words):
    (tmp_path / "file").touch()
    check_sentence(manage(tmp_path / "file" / "data", *words), str(tmp_path / "file"))


def test_a_data_folder_that_cannot_be_written_is_named():
    check_sentence(manage(Path("/sys/kitchen-counter"), "prepare"), "/sys/kitchen-counter")


def test_a_database_that_is_away_is_told(tmp_path):
    away = "postgres://nobody@127.0.0.1:1/nothing"
    for words in (LEAD, ("prepare",)):
        ran = manage(tmp_path, *words, DATABASE_URL=away)
        check_sentence(ran, "The database cannot be used")


def test_a_wrong_setting_is_told_by_every_command(tmp_path):
    check_sentence(manage(tmp_path, *LEAD, SITE_URL="school.example"), "SITE_URL must start with")


def test_the_database_of_the_demo_is_never_served_from_another_folder(tmp_path):
    (tmp_path / "demo").mkdir()
    (tmp_path / "demo" / "demo-school").touch()
    ran = manage(
        tmp_path / "data", "serve", "--host", "192.0.2.1",
        DATABASE_URL=f"sqlite:///{tmp_path}/demo/kitchen-counter.sqlite3",
    )  # fmt: skip
    assert ran.returncode == 1
    assert "the database of the invented demo school" in ran.stderr


@pytest.mark.parametrize("program", ["beat", "web server"])
def test_what_a_supervisor_starts_leaves_nothing_in_the_folder_of_the_code(tmp_path, program):
    here = Path(sys.executable).parent
    commands = {
        "beat": [here / "celery", "--app", "portal", "beat"],
        "web server": [here / "gunicorn", "portal.wsgi", "--bind", f"unix:{tmp_path}/door"],
    }
    signs = {"beat": tmp_path / "data" / "beat-schedule", "web server": tmp_path / "door"}
    (tmp_path / "data").mkdir()
    before = {path.name for path in ROOT.iterdir()}
    with subprocess.Popen(
        [str(word) for word in commands[program]], cwd=ROOT, env=environment(tmp_path / "data"),
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    ) as process:  # fmt: skip
        try:
            deadline = time.monotonic() + 60
            while not list(tmp_path.rglob(f"{signs[program].name}*")):
                assert process.poll() is None
                assert time.monotonic() < deadline
                time.sleep(0.1)
            found = {path.name for path in ROOT.iterdir()}
        finally:
            process.terminate()
    assert (found | {path.name for path in ROOT.iterdir()}) - before <= {"__pycache__"}

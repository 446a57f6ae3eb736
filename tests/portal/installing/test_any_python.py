"""Whoever starts it with whatever Python gets pages or one sentence, and waits for nothing else."""

import hashlib
import os
import re
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from portal.installing.libraries import LISTS, STAMP, VENV, stamped
from portal.installing.making import Cost
from portal.installing.progress import Told
from tests.closing import NO_OLD_PYTHON
from tests.portal.installing.conftest import copy_start

ROOT = Path(__file__).resolve().parents[3]
OLD = re.compile(r"python(2\.7|3\.([0-9]|10))")


def old_pythons() -> list[str]:
    """Return the Pythons of this machine that are too old, also those that a manager keeps."""
    folders = [Path(each) for each in os.get_exec_path()]
    folders += sorted(Path.home().glob(".pyenv/versions/*/bin"))
    found = [path for each in folders if each.is_dir() for path in each.iterdir()]
    return [str(path) for path in found if OLD.fullmatch(path.name) and "shims" not in path.parts]


@pytest.mark.parametrize("python", old_pythons() or [None])
def test_an_old_python_says_which_it_is_and_which_is_needed(python):
    if python is None:
        pytest.skip(NO_OLD_PYTHON)
    asked = [python, "manage.py", "demo"]
    ran = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=False)
    version = Path(python).name.removeprefix("python")
    needed = f"Kitchen Counter needs Python 3.11 or newer; this is Python {version} ("
    assert ran.returncode == 1
    assert ran.stderr.startswith(needed)
    assert ran.stderr.count("\n") == 1


def test_what_installs_needs_nothing_that_has_to_be_installed():
    code = "import sys; sys.path.insert(0, 'portal'); import installing.making"
    ran = subprocess.run(
        [sys.executable, "-S", "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr


def test_a_start_that_has_all_it_needs_is_not_held_up(tmp_path):
    """Both Pythons that start are counted, in the processor's own seconds."""
    copy_start(tmp_path)
    (tmp_path / "portal/installing/requirements.lock").write_text("")
    (tmp_path / "django/core/management").mkdir(parents=True)
    for package in ("django", "django/core"):
        (tmp_path / package / "__init__.py").touch()
    (tmp_path / "django/core/management/__init__.py").write_text(
        "execute_from_command_line = print"
    )
    python = str(getattr(sys, "_base_executable", sys.executable))
    make = [python, "-m", "venv", "--without-pip", ".venv"]
    subprocess.run(make, cwd=tmp_path, check=True)
    stamp = f"requirements.txt {hashlib.sha256(b'').hexdigest()}\n"
    (tmp_path / ".venv/installed-requirements").write_text(stamp)

    def cost(*command: str) -> float:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(command, cwd=tmp_path, check=True, capture_output=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime

    bare = min(cost(python, "-c", "pass") for _ in range(5))
    whole = min(cost(python, "manage.py", "check") for _ in range(5))
    # One start of Python takes some 15 ms on a quiet machine: it all stays below 0.1 s.
    assert whole <= 6 * bare, (whole, bare)


def on_disk(folder: Path) -> float:
    """Return the MB that the files below *folder* take on the disk."""
    return sum(path.lstat().st_blocks * 512 for path in folder.rglob("*")) / 1_000_000


def test_what_the_libraries_are_said_to_cost_is_what_they_cost():
    if not STAMP.exists():
        pytest.skip("the libraries are in an environment of somebody's own")
    told = Cost.of([LISTS[name] for name in LISTS if name in stamped()])
    there = sum(1 for _each in VENV.glob("lib/python3*/site-packages/*.dist-info"))
    assert told.libraries / 1.25 <= there <= told.libraries * 1.25
    assert told.on_disk / 1.5 <= on_disk(VENV) <= told.on_disk * 1.5
    if fetched := stamped().get("megabytes-fetched"):
        assert told.to_fetch / 1.5 <= float(fetched) <= told.to_fetch * 1.5


def test_it_follows_what_the_pips_of_all_these_pythons_print():
    """Source: pip 23.0 to 25.0 as Python 3.11 to 3.13 bring them, run on this project's list."""
    told = Told()
    for line in (
        "Collecting Django==5.2.19 (from -r requirements.txt (line 8))",
        "  Downloading django-5.2.19-py3-none-any.whl.metadata (4.1 kB)",
        "Downloading django-5.2.19-py3-none-any.whl (8.3 MB)",
        "Using cached segno-1.6.6-py3-none-any.whl (76 kB)",
        "Requirement already satisfied: pillow-heif==1.8.1 in /x/site-packages (1.8.1)",
        "Requirement already satisfied: django-storages[s3]==1.14.6 in /x (1.14.6)",
    ):
        told.hear(line.strip())
    assert told.looked_up == {"Django", "pillow-heif", "django-storages"}
    assert told.fetched == {"django", "segno"}
    assert told.megabytes == pytest.approx(8.376)
    told.hear("Installing collected packages: segno, Django")
    assert told.in_order == ["segno", "Django"]


def test_a_moment_is_told_when_the_line_does_not_answer():
    told = Told()
    told.hear("WARNING: Retrying (Retry(total=2, connect=None)) after connection broken by ...")
    assert told.now == "the line does not answer, trying again"

"""Run the tests; every argument is passed on to pytest."""

import os
import subprocess
import sys
from pathlib import Path
from typing import NoReturn

from django.core.management.base import BaseCommand

ROOT = Path(__file__).resolve().parents[3]


class Command(BaseCommand):
    help = "Run the tests (pytest underneath: arguments are passed on; --quick for two minutes)."
    requires_system_checks = []

    def run_from_argv(self, argv: list[str]) -> NoReturn:
        """Hand over to pytest as it is, options and all."""
        environment = {**os.environ, "DJANGO_SETTINGS_MODULE": "tests.settings"}
        command = [sys.executable, "-m", "pytest", "-c", "tests/pytest.ini", *chosen(argv[2:])]
        sys.exit(subprocess.run(command, cwd=ROOT, env=environment, check=False).returncode)


def chosen(words: list[str]) -> list[str]:
    """Return the arguments for pytest: all tests where none are named, on all cores.

    >>> chosen(["--quick", "-n2"])
    ['--quick', '-n2', 'tests']
    """
    named = [word for word in words if is_of_tests(ROOT / word.split("::")[0])]
    return [*all_cores(words, named), *words, *([] if named else ["tests"])]


def is_of_tests(path: Path) -> bool:
    """Whether *path* is the folder of the tests, or something in it."""
    return path.exists() and path.resolve().is_relative_to(ROOT / "tests")


def all_cores(words: list[str], named: list[str]) -> list[str]:
    """Give the options to run on all cores, a file on one of them; none where one file is named."""
    one_file = len(named) == 1 and ".py" in named[0]
    own_way = ("-n", "--numprocesses", "--pdb", "--co", "--collect-only", "-s", "--capture=no")
    if one_file or cores() == 1 or any(word.startswith(own_way) for word in words):
        return []
    # The longest files come first, by tests/closing.py, so that no core waits for the last of them.
    return ["-n", str(cores()), "--dist", "loadfile", "--no-loadscope-reorder"]


def cores() -> int:
    """Return how many processor cores this process may use."""
    if sys.platform == "linux":
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1

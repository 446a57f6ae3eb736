"""Run the tests; every argument is passed on to pytest."""

import os
import subprocess
import sys
from pathlib import Path
from typing import NoReturn

from django.core.management.base import BaseCommand

ROOT = Path(__file__).resolve().parents[3]


class Command(BaseCommand):
    help = "Run the tests (pytest underneath: arguments are passed on)."
    requires_system_checks = []

    def run_from_argv(self, argv: list[str]) -> NoReturn:
        """Hand over to pytest as it is, options and all."""
        environment = {**os.environ, "DJANGO_SETTINGS_MODULE": "tests.settings"}
        names_some = any(not word.startswith("-") for word in argv[2:])
        chosen = argv[2:] if names_some else ["tests", *argv[2:]]
        command = [sys.executable, "-m", "pytest", "-c", "tests/pytest.ini", *chosen]
        sys.exit(subprocess.run(command, cwd=ROOT, env=environment, check=False).returncode)

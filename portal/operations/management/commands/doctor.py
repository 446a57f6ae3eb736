"""Look the portal over, and say what to do."""

import json
from dataclasses import asdict
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from portal.operations.checks.every_check import look_over, worst
from portal.operations.checks.lines import Level


class Command(BaseCommand):
    help = "Look over settings, database, disk, jobs, mail and backups. Ends with 1 if one is bad."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--format", choices=["text", "json"], default="text")
        parser.add_argument("--offline", action="store_true", help="leave mail and certificate out")

    def handle(self, *args: Any, **options: Any) -> None:
        lines = []
        for line in look_over(offline=options["offline"]):
            lines.append(line)
            if options["format"] == "text":
                self.stdout.write(f"{line.level:<5} {line.about}: {line.words}")
        level = worst(lines)
        if options["format"] == "json":
            report = {"worst": level, "lines": [asdict(line) for line in lines]}
            self.stdout.write(json.dumps(report, indent=1))
        if level == Level.BAD:
            raise SystemExit(1)

"""Measure speed and size, as ratios and counts from this one run."""

import importlib
import json
import pkgutil
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

PACKAGE = "tests.benchmarks"


class Command(BaseCommand):
    help = "Measure speed and size: ratios and counts from one run, with what they should hold."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("parts", nargs="*", help="which parts to measure (all)")
        parser.add_argument("--format", choices=["text", "json"], default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        package = importlib.import_module(PACKAGE)
        known = [module.name for module in pkgutil.iter_modules(package.__path__)]
        if strangers := set(options["parts"]) - set(known):
            raise CommandError(f"No part {', '.join(strangers)}. There are: {', '.join(known)}.")
        figures = []
        for part in options["parts"] or known:
            for figure in importlib.import_module(f"{PACKAGE}.{part}").measure():
                figures.append(figure)
                if options["format"] == "text":
                    self.print(figure)
        if options["format"] == "json":
            self.stdout.write(json.dumps([vars(figure) for figure in figures], indent=1))

    def print(self, figure: Any) -> None:
        """Print one line: the name, the value, and whether it holds."""
        bounds = [f"at most {figure.most:g}"] if figure.most is not None else []
        bounds += [f"at least {figure.least:g}"] if figure.least is not None else []
        verdict = "holds" if figure.holds else "MISSED"
        mark = f"  ({', '.join(bounds)}: {verdict})" if bounds else ""
        self.stdout.write(f"{figure.name:<58} {figure.value:>12,.3f} {figure.unit}{mark}")
        self.stdout.flush()

"""Say that this machine's clock is right, after it leapt or the portal was off for weeks."""

import datetime as dt
from argparse import ArgumentParser, ArgumentTypeError
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from portal.operations import clock

DAY = dt.timedelta(days=1)  # Where the sun stands further east or west than UTC says.


def date(text: str) -> dt.date:
    """Read a date. Raises ArgumentTypeError."""
    try:
        return dt.date.fromisoformat(text)
    except ValueError as error:
        raise ArgumentTypeError("must be a date such as 2026-11-25") from error


class Command(BaseCommand):
    help = (
        "Say that this machine's clock is right, so that what is old is deleted again. Read "
        "today's date from a calendar, not from this machine."
    )
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("today", type=date, help="today's date, such as 2026-11-25")

    def handle(self, *args: Any, **options: Any) -> None:
        now = timezone.now()
        if abs(now.date() - options["today"]) > DAY:
            raise CommandError(
                f"By this machine's clock it is {now:%Y-%m-%d}, not {options['today']}. "
                "Set the clock first. Nothing was changed."
            )
        clock.confirm(now)
        self.stdout.write(f"{now:%Y-%m-%d %H:%M} UTC is believed: what is old is deleted again.")

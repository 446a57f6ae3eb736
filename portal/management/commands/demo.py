"""Show the whole loop with an invented school, on this machine."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.demo.cast import CAST
from portal.running.options import add_options
from portal.running.portal_on_one_machine import CannotStartError, Plan, run
from portal.upkeep.hooks import lacks


class Command(BaseCommand):
    help = "Start the portal with an invented school. Ctrl-C stops it; its data stays."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        add_options(parser)

    def handle(self, *args: Any, **options: Any) -> None:
        self.say(f"Setting the table in {settings.DATA_DIR} ...")
        try:
            plan = Plan.of(settings, options)
            run(plan, self.say, self.say_where_to_go)
        except CannotStartError as error:
            raise CommandError(str(error)) from error

    def say_where_to_go(self) -> None:
        """Print the address of the demo and of each person in it."""
        self.say(f"\nKitchen Counter is ready: {settings.SITE_URL}/demo/\n\nCome in as")
        for person in CAST:
            self.say(f"  {person.title:<44} {settings.SITE_URL}/demo/as/{person.key}/")
        for lack in lacks():
            self.say(f"\nOn this system: {lack.words}")
        self.say("\nAll of it is invented. Mails are printed here. Ctrl-C stops everything.")

    def say(self, text: str) -> None:
        """Print *text* at once, also into a pipe."""
        self.stdout.write(text)
        self.stdout.flush()

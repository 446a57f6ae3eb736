"""Show the whole loop with an invented school, on this machine."""

import io
from typing import Any

import segno
from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.demo.cast import CAST
from portal.operations.hooks import lacks
from portal.supervisor.options import add_options
from portal.supervisor.own_address import is_open_to_network
from portal.supervisor.supervisor import CannotStartError, Plan, run

PHONE = "family"  # whom a phone that follows the square code comes in as


class Command(BaseCommand):
    help = "Start the portal with an invented school. Ctrl-C stops it; its data stays."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        add_options(parser)
        parser.add_argument(
            "--again", action="store_true", help="give the invented school back as it was"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        is_open = is_open_to_network(options["host"])
        self.say(f"Setting the table in {settings.DATA_DIR} ...")
        try:
            plan = Plan.of(settings, options)
            run(plan, self.say, lambda: self.say_where_to_go(is_open=is_open))
        except CannotStartError as error:
            raise CommandError(str(error)) from error

    def say_where_to_go(self, *, is_open: bool) -> None:
        """Print the address of the demo and of each person in it; a code where phones reach it."""
        self.say(f"\nKitchen Counter is ready: {settings.SITE_URL}/demo/\n\nCome in as")
        for person in CAST:
            self.say(f"  {person.title:<44} {settings.SITE_URL}/demo/as/{person.key}/")
        for lack in lacks():
            self.say(f"\nOn this system: {lack.words}")
        if is_open:
            self.say("\nA phone in the same network that follows this has today's card:\n")
            self.say(square_code(f"{settings.SITE_URL}/demo/as/{PHONE}/"))
            self.say("Anybody in this network can open this invented school, as anybody in it.")
        self.say(f"\nAll of it is invented. Mails go to nobody: {settings.SITE_URL}/demo/mails/")
        self.say("and here. Ctrl-C stops everything.")

    def say(self, text: str) -> None:
        """Print *text* at once, also into a pipe."""
        self.stdout.write(text)
        self.stdout.flush()


def square_code(address: str) -> str:
    """Draw the square code of *address* for a terminal, two dots to a letter."""
    drawn = io.StringIO()
    segno.make(address, micro=False).terminal(out=drawn, compact=True)
    return drawn.getvalue()

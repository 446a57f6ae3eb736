"""Run the portal for real use on one machine."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.operations.checks.safety import unfit_system, unsafe_settings
from portal.supervisor.options import add_options
from portal.supervisor.supervisor import CannotStartError, Plan, run


class Command(BaseCommand):
    help = "Start the portal for real use. Refuses with an unsafe setting or an unfit system."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        add_options(parser)

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            plan = Plan.of(settings, options)
            if faults := unsafe_settings(settings, plan.broker) + unfit_system():
                raise CommandError("This is not safe for real use:\n- " + "\n- ".join(faults))
            run(plan, self.stdout.write, lambda: self.stdout.write(f"Ready: {settings.SITE_URL}"))
        except CannotStartError as error:
            raise CommandError(str(error)) from error

"""Bring database, goals and static files up to date; and in the demo, the invented school."""

from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from portal.operations import erasure_list, upgrade
from portal.operations.backup.finished import BackupError
from portal.supervisor import preparing


class Command(BaseCommand):
    help = "Migrate the database, load the goals that are shipped, collect static files."
    requires_system_checks = []  # Made below, where anything has changed.

    def handle(self, *args: Any, **options: Any) -> None:
        settings.DATA_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)
        try:
            upgrade.refuse_newer()
            self.prepare()
        except (BackupError, OSError, ValueError) as error:
            raise CommandError(f"Not brought up to date: {error}") from error

    def prepare(self) -> None:
        """Bring up to date what is not. Raises BackupError, OSError, ValueError.

        The list of erasures always: another machine of this portal may know more since.
        """
        if settings.DEMO:
            call_command("demo_school", "--begin")  # Drawing takes a core of its own meanwhile.
        due = preparing.is_due(settings.DATA_DIR)
        if due:
            self.bring_up_to_date()
        erasure_list.merge()
        if settings.DEMO:
            call_command("demo_school", stdout=self.stdout)
        if due:
            preparing.note(settings.DATA_DIR)

    def bring_up_to_date(self) -> None:
        """Do what depends on the program and the database alone."""
        self.check()
        upgrade.copy_before(self.stdout.write)
        call_command("migrate", verbosity=0, interactive=False)
        call_command("load_frameworks", verbosity=0)
        call_command("collectstatic", verbosity=0, interactive=False)

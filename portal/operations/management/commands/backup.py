"""Back the portal up while it runs."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.operations.backup.finished import BackupError
from portal.operations.backup.making import BackingUp
from portal.operations.backup.repository import BackupRepository
from portal.operations.backup.sealing import BadKeyError, recipients_of


class Command(BaseCommand):
    help = "Back up database and media to a folder; files that are there already are not copied."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("to", type=Path, help="the folder, best on another device")
        parser.add_argument("--key", help="seal to this age recipient, or to those of this file")
        parser.add_argument("--keep", type=int, default=30, help="how many to keep (30)")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["keep"] < 1:
            raise CommandError("--keep must be 1 or more.")
        try:
            recipients = recipients_of(options["key"]) if options["key"] else ()
            with BackupRepository(options["to"].resolve(), recipients).held() as repository:
                backup = BackingUp(repository, self.stdout.write).run(options["keep"])
        except (BackupError, BadKeyError, OSError) as error:
            raise CommandError(f"No backup was made: {error}") from error
        if missing := backup.manifest.missing:
            raise CommandError(f"The backup is made, but {len(missing)} files could not be had.")

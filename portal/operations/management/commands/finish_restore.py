"""The second half of `restore`, which calls it."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.operations.backup.finished import Backup, BackupError
from portal.operations.backup.restore_second_half import finish


class Command(BaseCommand):
    help = "Called by `restore`: put the unpacked database in, check it and bring it up to date."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("backup", type=Path, help="the backup that was unpacked into DATA_DIR")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            finish(Backup(options["backup"]), self.stdout.write)
        except (BackupError, OSError, ValueError) as error:
            raise CommandError(str(error)) from error

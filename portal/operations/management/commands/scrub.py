"""See whether every stored file is still what was sent, and mend what is not."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.operations.backup.finished import BackupError, find_backup
from portal.operations.backup.sealing import BadKeyError, identities_of
from portal.operations.models import Mark
from portal.operations.scrub import find_faults, mend


class Command(BaseCommand):
    help = "Compare every stored file with its row; with --mend, bring back what is damaged."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--mend", type=Path, help="a backup, or a folder of them: the newest")
        parser.add_argument("--key", type=Path, help="file of the secret key of a sealed backup")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            faulty = find_faults()
        except OSError as error:
            raise CommandError(f"Not compared: the store is away ({error}).") from error
        for file in faulty:
            self.stdout.write(f"{file.name} is damaged or not there.")
        try:
            if faulty and options["mend"]:
                identities = identities_of(options["key"]) if options["key"] else None
                faulty = mend(faulty, find_backup(options["mend"]), identities, self.stdout.write)
        except (BackupError, BadKeyError, OSError) as error:
            raise CommandError(f"Not mended: {error}") from error
        if faulty:
            raise CommandError(f"{len(faulty)} files are damaged or not there.")
        Mark.make(Mark.Name.SCRUB)
        self.stdout.write("Every stored file is what its row says.")

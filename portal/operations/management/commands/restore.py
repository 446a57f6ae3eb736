"""Bring a backup back, or see whether it could be."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.operations.backup.drills import drill
from portal.operations.backup.finished import BackupError, find_backup
from portal.operations.backup.restore import Restoring, check_whole
from portal.operations.backup.sealing import BadKeyError, identities_of


class Command(BaseCommand):
    help = "Restore a backup onto an empty folder (and, with DATABASE_URL, an empty database)."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("source", type=Path, help="a backup, or a folder of them: the newest")
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("--data", type=Path, help="the empty folder that becomes DATA_DIR")
        what.add_argument("--check", action="store_true", help="only compare all hashes")
        what.add_argument("--drill", action="store_true", help="restore, check, and throw away")
        parser.add_argument(
            "--without-damaged",
            action="store_true",
            help="leave out files that are damaged, and say what is missing",
        )
        parser.add_argument("--key", type=Path, help="file of the secret key of a sealed backup")
        parser.add_argument(
            "--erasures",
            action="append",
            default=[],
            help="erasures.jsonl of the lost portal (of each machine), or its database's address",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        say = self.stdout.write
        try:
            identities = identities_of(options["key"]) if options["key"] else None
            backup = find_backup(options["source"])
            if options["check"]:
                check_whole(backup, say)
            elif options["drill"]:
                drill(backup, identities, say)
                say("The drill went well.")
            else:
                target = options["data"].resolve()
                chosen = {name: options[name] for name in ("erasures", "without_damaged")}
                Restoring(backup, target, identities, say, **chosen).run()
                say(f"Restored. Start with DATA_DIR={target}.")
        except (BackupError, BadKeyError, OSError) as error:
            raise CommandError(f"Not restored: {error}") from error

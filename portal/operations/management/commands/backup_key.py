"""Make the key that opens sealed backups."""

import os
from pathlib import Path
from typing import Any

import pyrage
from django.core.management.base import BaseCommand, CommandError, CommandParser


class Command(BaseCommand):
    help = "Make a key for sealed backups: prints the public half, for `backup --key`."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="where to put the secret half")

    def handle(self, *args: Any, **options: Any) -> None:
        identity = pyrage.x25519.Identity.generate()
        try:
            handle = os.open(options["file"], os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        except OSError as error:
            raise CommandError(f"{options['file']} cannot be made: {error.strerror}.") from error
        with os.fdopen(handle, "w", encoding="ascii") as file:
            file.write(f"# public key: {identity.to_public()}\n{identity}\n")
        self.stderr.write(
            f"The secret half is in {options['file']}. Keep it away from this machine and from the "
            "backups, and keep it twice: without it nobody opens them."
        )
        self.stdout.write(str(identity.to_public()))

"""Refusing arguments in one line that names the argument, with exit status 2."""

import sys
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandError, CommandParser


class RefusingCommand(BaseCommand):
    """A command that needs no database, no checks, and says in one line what it cannot take."""

    requires_system_checks = ()

    def create_parser(self, prog_name: str, subcommand: str, **options: Any) -> CommandParser:
        """Make the parser: its errors are one line without the usage text."""
        parser = super().create_parser(prog_name, subcommand, **options)

        def refuse(message: str) -> NoReturn:
            if parser.called_from_command_line:
                self.stderr.write(message)
                sys.exit(2)
            raise CommandError(message, returncode=2)

        parser.error = refuse
        return parser

    def execute(self, *args: Any, **options: Any) -> str | None:
        """Run, turning a ValueError of the number work into a refusal."""
        try:
            return super().execute(*args, **options)
        except ValueError as error:
            raise CommandError(str(error), returncode=2) from error

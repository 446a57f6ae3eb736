"""Write all that is kept of one child to a file, to be handed out."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.data_protection.data_export.writing import write_copy
from portal.data_protection.hooks import Scope
from portal.people.models import Child


class Command(BaseCommand):
    help = "Write a copy of all that is kept of a child; other children's names are taken out."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("child", type=int, help="the number of the child")
        parser.add_argument("file", type=Path, help="a zip file that is not there yet")

    def handle(self, *args: Any, **options: Any) -> None:
        child = Child.objects.filter(pk=options["child"]).first()
        if child is None:
            raise CommandError(f"There is no child of number {options['child']}.")
        try:
            size = write_copy(Scope(child), options["file"])
        except OSError as error:
            raise CommandError(f"Not written: {error}") from error
        self.stdout.write(f"{options['file']}: {size} bytes about child {child.pk}.")

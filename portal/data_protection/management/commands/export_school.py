"""Write all that is kept of a school to a file, for the school itself."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.data_protection.data_export.schools import write_school
from portal.people.models import School


class Command(BaseCommand):
    help = "Write a copy of a whole school, with all names: keep the file as you keep records."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("school", type=int, help="the number of the school")
        parser.add_argument("file", type=Path, help="a zip file that is not there yet")

    def handle(self, *args: Any, **options: Any) -> None:
        school = School.objects.filter(pk=options["school"]).first()
        if school is None:
            raise CommandError(f"There is no school of number {options['school']}.")
        try:
            size = write_school(school, options["file"], self.say_how_far)
        except OSError as error:
            raise CommandError(f"Not written: {error}") from error
        self.stdout.write(f"{options['file']}: {size} bytes.")

    def say_how_far(self, done: int, most: int) -> None:
        """Print how many children are done."""
        self.stdout.write(f"{done} of {most} children")

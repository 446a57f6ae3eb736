"""Erase a school with everything in it, for good."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from portal.data_protection.erasure.erase import HeldError, close_school
from portal.people.models import School


class Command(BaseCommand):
    help = "Erase a school, its children and all they sent. It cannot be undone: export it first."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("school", type=int, help="the number of the school")
        parser.add_argument("--name", required=True, help="its name, to be sure which is meant")

    def handle(self, *args: Any, **options: Any) -> None:
        school = School.objects.filter(pk=options["school"]).first()
        if school is None or school.name != options["name"]:
            raise CommandError("There is no school of this number and name. Nothing was erased.")
        try:
            count = close_school(school)
        except HeldError as error:
            raise CommandError("Something in it is held. Nothing was erased.") from error
        self.stdout.write(f"Erased: {count} children, and the school.")

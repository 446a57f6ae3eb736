"""List the labels of every screen, for reading."""

import logging
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandParser

from portal.demo.crawl import ROLES, Visit, walk
from portal.demo.labels import labels_of
from portal.people.models import Child, SchoolClass, User


class Command(BaseCommand):
    help = "List the headings, buttons, links, fields and table heads of the demo's screens."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--role", choices=ROLES, help="whose screens (everybody's)")
        offered = ["", *dict(settings.LANGUAGES)]
        parser.add_argument("--language", default="", choices=offered, help="of family pages")
        parser.add_argument("--data", help="folder of the demo (var/demo); made where it is not")
        parser.add_argument(
            "--addresses", action="store_true", help="the addresses alone: role, page, address"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        logging.disable(logging.WARNING)
        if not (settings.DATA_DIR / "demo-school").exists():
            call_command("prepare", stdout=self.stderr)
        names = names_known()
        printed: set[tuple[str, str]] = set()
        for role in [options["role"]] if options["role"] else ROLES:
            for visit in walk(role, options["language"]):
                if options["addresses"]:
                    self.stdout.write(f"{role}\t{visit.name}\t{visit.address}")
                else:
                    self.tell(visit, names, printed)

    def tell(self, visit: Visit, names: set[str], printed: set[tuple[str, str]]) -> None:
        """Print the labels of one page that were not printed before."""
        lines = []
        for what, words in labels_of(visit.html, names).items():
            fresh = [each for each in words if (what, each) not in printed]
            printed.update((what, each) for each in fresh)
            if fresh:
                lines.append(f"  {what}: {' | '.join(fresh)}")
        if lines:
            self.stdout.write(f"\n{visit.role}: {visit.name} {visit.address}\n" + "\n".join(lines))


def names_known() -> set[str]:
    """Return the names of the people and classes of the demo."""
    children = [(str(child), child.first_name) for child in Child.objects.all()]
    people = [*User.objects.values_list("name", flat=True)]
    classes = [*SchoolClass.objects.values_list("name", flat=True)]
    return {*people, *classes, *(name for pair in children for name in pair)}

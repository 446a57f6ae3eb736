"""Make the invented school of the demo, once."""

import shutil
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from assessment.demo.school import begin_drawing, make_school
from assessment.demo.studio import Studio
from portal.people.models import School

begun: list[Studio] = []


class Command(BaseCommand):
    help = "Make the invented school of the demo; where it is there already, do nothing."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--begin",
            action="store_true",
            help="only begin to draw its pictures; another call in this process goes on from there",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        mark, folder = settings.DATA_DIR / "demo-school", settings.DATA_DIR / "demo-drawn"
        if options["begin"]:
            if not mark.exists():
                begun.append(begin_drawing(folder))
            return
        if School.objects.exists():
            if not mark.exists():
                raise CommandError("This data belongs to a real school: use another --data.")
            return
        mark.touch()  # Before the school, so that `serve` never takes invented data for real.
        self.stdout.write("Inviting an invented class of thirty ...")
        self.stdout.flush()
        make_school(timezone.now(), begun.pop() if begun else begin_drawing(folder), folder)
        shutil.rmtree(folder)

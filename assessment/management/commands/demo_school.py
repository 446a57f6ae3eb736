"""Make the invented school of the demo, once, or again."""

import shutil
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from assessment.demo.drawing.studio import Studio
from assessment.demo.school import begin_drawing, make_school
from portal import demo_date
from portal.demo import mails
from portal.people.models import Closure, School

ZONE = ZoneInfo("Europe/London")
begun: list[Studio] = []


class Command(BaseCommand):
    help = "Make the invented school of the demo; where it is there already, do nothing."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--begin",
            action="store_true",
            help="only begin to draw its pictures; another call in this process goes on from there",
        )
        parser.add_argument(
            "--again", action="store_true", help="make it again; all that was tried in it is gone"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        again = options["again"] or settings.DEMO_AGAIN
        if options["begin"]:
            if again or not demo_date.mark().exists():
                begun.append(begin_drawing(drawn()))
        elif not School.objects.exists():
            demo_date.mark().touch()  # First: `serve` never takes invented data for real.
            self.say("Inviting an invented class of thirty ...")
            make()
        elif not demo_date.mark().exists():
            raise CommandError("This data belongs to a real school: use another --data.")
        elif again:
            self.make_again()
        else:
            self.say_if_past()

    def make_again(self) -> None:
        """Put a fresh school in the place of the one there is, all of it or nothing."""
        if not settings.DEMO:
            raise CommandError("Only a demo can be started again.")
        self.say("Giving the invented school back as it was ...")
        old = [path for path in Path(settings.MEDIA_ROOT).rglob("*") if path.is_file()]
        with transaction.atomic():
            call_command("flush", verbosity=0, interactive=False)
            call_command("load_frameworks", verbosity=0)
            make()
        for path in old:
            path.unlink(missing_ok=True)

    def say_if_past(self) -> None:
        """Say so if there has been school since the day that is shown."""
        closures = Closure.objects.values_list("first", "last")
        shown = demo_date.shown()
        if shown and demo_date.last_school_day(demo_date.now(ZONE).date(), closures) > shown:
            kept = f"The invented school is as you left it: its day is {shown:%A %-d %B}."
            self.say(f"{kept} For a newer one: --again, or Start again at /demo/.")

    def say(self, text: str) -> None:
        """Print *text* at once, also into a pipe."""
        self.stdout.write(text)
        self.stdout.flush()


def make() -> None:
    """Make the school as of now, and note its day."""
    mails.forget()
    drawing = begun.pop() if begun else begin_drawing(drawn())
    demo_date.show(make_school(demo_date.now(ZONE), drawing, drawn()))
    shutil.rmtree(drawn())


def drawn() -> Path:
    """Return where the pictures are drawn."""
    return settings.DATA_DIR / "demo-drawn"

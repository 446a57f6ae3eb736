"""Print one week of one class."""

import json
from typing import Any

from django.core.management.base import CommandParser

from assessment.converters import WeekInAddress
from assessment.insight.weeks import Week
from assessment.weekly.class_week import ClassWeek, class_week
from assessment.weekly.plain_text import as_data, as_text
from portal.people.models import Child, SchoolClass
from tasks.management.commands._refusing import RefusingCommand


class Command(RefusingCommand):
    """python3 manage.py week_summary --class Robins --week 2026-W48"""

    help = "Print a week of a class as it stands now. Nothing is stored and nothing is sent."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the class, the week, and how to print."""
        parser.add_argument("--class", dest="class_name", required=True, metavar="NAME")
        parser.add_argument("--week", required=True, metavar="2026-W48", help="ISO 8601 week")
        parser.add_argument("--school", metavar="NAME", help="where two schools have such a class")
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the week."""
        week = week_named(options["week"])
        school_class = class_named(options["class_name"], options["school"], week)
        whole = class_week(school_class, Child.objects.filter(school_class=school_class), week)
        self.stdout.write(printed(whole, options["format"]))


def printed(whole: ClassWeek, form: str) -> str:
    """Return the week as text to read, or as JSON."""
    if form == "json":
        return json.dumps(as_data(whole), ensure_ascii=False, indent=2)
    return as_text(whole)


def week_named(text: str) -> Week:
    """Read an ISO week. Raises ValueError in one line."""
    try:
        return WeekInAddress().to_python(text)
    except ValueError as error:
        raise ValueError(f"--week must be an ISO week such as 2026-W48, not {text!r}") from error


def class_named(name: str, school: str | None, week: Week) -> SchoolClass:
    """Return the one class called *name* in the school year of *week*. Raises ValueError."""
    found = SchoolClass.objects.select_related("year__school").filter(
        name=name, year__starts__lte=week.sunday, year__ends__gte=week.monday
    )
    if school is not None:
        found = found.filter(year__school__name=school)
    classes = list(found[:2])
    if not classes:
        where = f" at {school}" if school else ""
        raise ValueError(f"--class: there is no class {name!r}{where} in the year of {week}")
    if len(classes) > 1:
        raise ValueError(f"--class: more than one school has a class {name!r}; add --school")
    return classes[0]

"""What a class has shown as a table to take away: a tag a line, one fact a cell."""

from collections.abc import Sequence
from typing import Any

from django.utils.translation import gettext as _

from assessment.day_parts import title_of
from assessment.models import Goal, Tag
from assessment.progress.pictures.grid import Wanted
from assessment.progress.wording import HOW
from assessment.progress.work_set.kinds_shown import KindsShown
from assessment.spreadsheets import Table
from evidence.models import Submission
from portal.people.models import Child, SchoolClass, User

FIELDS = (
    *("child", "goal", "submission__day_plan", "submission__day_plan__date"),
    *("submission__help", "how", "tagged_by__name", "by_assistant"),
)
HELP = dict(Submission.Help.choices)


def tags_table(
    name: str, school_class: SchoolClass, user: User, goals: Sequence[Goal], wanted: Wanted
) -> Table:
    """Return every tag of *goals* that is *wanted*: by child, by goal, then by date."""
    children = list(Child.objects.taught_by(user).filter(school_class=school_class))
    tags = wanted.among(Tag.objects.visible_to(user).filter(child__in=children, goal__in=goals))
    found = list(tags.order_by("shown_at", "pk").values_list(*FIELDS))
    shown_in = KindsShown({row[2] for row in found}, children)
    by_key = {goal.pk: goal for goal in goals}
    by_cell: dict[tuple[int, int], list[Any]] = {}
    for child, goal, plan, *row in found:
        kind = shown_in.kind(child, plan, by_key[goal].kinds)
        if wanted.kind in ("", kind):
            by_cell.setdefault((child, goal), []).append(line(by_key[goal], kind, *row))
    headings = [
        *(_("Child"), _("Part of the goals"), _("Goal"), _("Date"), _("Help at home")),
        *(_("Kind of work"), _("How shown"), _("Tagged by"), _("Tagged as")),
    ]
    rows = [
        (child, *facts)
        for child in children
        for goal in goals
        for facts in by_cell.get((child.pk, goal.pk), ())
    ]
    return Table(name, headings, rows)


def line(
    goal: Goal, kind: str, on: Any, help_given: str, how: str, by: str | None, by_assistant: bool
) -> tuple[Any, ...]:
    """Return the facts of one tag."""
    return (
        *(goal.strand, goal.label, on, HELP.get(help_given) or _("not said")),
        *(title_of(kind) if kind else "", HOW[how], by or _("somebody who has left")),
        _("assistant") if by_assistant else _("teacher"),
    )

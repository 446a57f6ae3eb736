"""A school's week for its lead: the classes' weeks as they were summed up, and added up."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any

from assessment.insight.weekfigures import WeekFigures, combine
from assessment.insight.weeks import Week
from assessment.models import Goal, WeekSummary
from assessment.weekly.class_week import in_words
from portal.people.models import School, SchoolClass

KEPT = {each.name for each in fields(WeekFigures)}


@dataclass(frozen=True)
class ClassOfWeek:
    """One class of the school: its week as it was summed up, or None while it was not yet."""

    school_class: SchoolClass
    figures: WeekFigures | None
    days_set: int = 0


@dataclass(frozen=True)
class SchoolWeek:
    """A school's week. goals: each seen, for how many children, for how many newly without help."""

    school: School
    week: Week
    classes: list[ClassOfWeek]
    figures: WeekFigures
    goals: list[tuple[str, int, int]]
    gone: list[tuple[str, int]]
    stayed: list[tuple[str, int]]


def school_week(school: School, week: Week) -> SchoolWeek:
    """Gather *week* of *school* from what was summed up, in three queries."""
    classes = SchoolClass.objects.filter(
        year__school=school, year__starts__lte=week.sunday, year__ends__gte=week.monday
    )
    rows = WeekSummary.objects.filter(
        audience=WeekSummary.Audience.STAFF, school_class__in=classes, week=week.monday
    )
    kept = {row.school_class_id: row.figures for row in rows}
    known = [of_class(each, kept.get(each.pk)) for each in classes]
    figures = combine(one.figures for one in known if one.figures)
    return SchoolWeek(
        school=school,
        week=week,
        classes=known,
        figures=figures,
        goals=goals_in_words(figures),
        gone=in_words(figures.gone),
        stayed=in_words(figures.stayed),
    )


def of_class(school_class: SchoolClass, kept: Mapping[str, Any] | None) -> ClassOfWeek:
    """Read the figures of one class as they were kept."""
    if kept is None:
        return ClassOfWeek(school_class, None)
    figures_kept = {name: value for name, value in kept.items() if name in KEPT}
    figures = WeekFigures(**{**figures_kept, "not_heard": tuple(figures_kept.get("not_heard", ()))})
    return ClassOfWeek(school_class, figures, kept.get("days_set", 0))


def goals_in_words(figures: WeekFigures) -> list[tuple[str, int, int]]:
    """Give the goals that were seen in their own words; equal codes of two frameworks are one."""
    known: dict[str, str] = {}
    for goal in Goal.objects.filter(code__in=list(figures.goals)):
        known.setdefault(goal.code, goal.label)
    return [(label, figures.goals[code], figures.new.get(code, 0)) for code, label in known.items()]


def school_rows(whole: SchoolWeek) -> Sequence[Sequence[object]]:
    """Return the classes as rows of a table: name, children, heard from, days set, pieces."""
    return [
        (one.school_class.name, f.children, f.heard, one.days_set, f.pieces, len(f.not_heard))
        for one in whole.classes
        if (f := one.figures)
    ]

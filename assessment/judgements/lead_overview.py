"""For the lead: which judgements are still missing, and where two members of staff differ."""

from collections.abc import Sequence
from dataclasses import dataclass

from assessment.goals.goal_sets import default_framework
from assessment.judgements.units import Unit, units_of
from assessment.models import ClassFramework, Framework, Judgement, Period
from portal.people.models import Child, SchoolClass


@dataclass(frozen=True)
class Missing:
    """A child on whom something is not decided yet, and what."""

    child: Child
    units: list[str]


@dataclass(frozen=True)
class Differing:
    """A child and a unit on which the latest words of two people are not the same."""

    child: Child
    unit: str
    said: list[Judgement]


@dataclass(frozen=True)
class ClassOverview:
    """One class: the children that something is missing for, and where staff differ."""

    school_class: SchoolClass
    missing: list[Missing]
    differing: list[Differing]


def overview(classes: Sequence[SchoolClass], period: Period) -> list[ClassOverview]:
    """Look through *classes*, of one year, in a number of queries that grows with neither
    children nor classes.
    """
    keys = [each.pk for each in classes]
    children: dict[int, list[Child]] = {}
    for child in Child.objects.filter(school_class__in=keys):
        children.setdefault(child.school_class_id, []).append(child)
    frameworks = frameworks_of(keys)
    units = {framework.pk: units_of(framework) for framework in set(frameworks.values())}
    rows = Judgement.objects.filter(child__school_class__in=keys, period=period)
    said: dict[tuple[int, int, str], list[Judgement]] = {}
    for row in rows.standing_by_each().select_related("by"):
        said.setdefault((row.child_id, row.framework_id, row.unit), []).append(row)
    return [
        _of_class(
            each,
            frameworks[each.pk],
            units[frameworks[each.pk].pk],
            children.get(each.pk, []),
            said,
        )
        for each in classes
    ]


def frameworks_of(classes: Sequence[int]) -> dict[int, Framework]:
    """Return the framework of each class by its key: the early learning goals by default."""
    chosen = ClassFramework.objects.filter(school_class__in=classes).select_related("framework")
    found = {row.school_class_id: row.framework for row in chosen}
    usual = default_framework()
    return {key: found.get(key, usual) for key in classes}


def _of_class(
    school_class: SchoolClass,
    framework: Framework,
    units: Sequence[Unit],
    children: Sequence[Child],
    said: dict[tuple[int, int, str], list[Judgement]],
) -> ClassOverview:
    missing, differing = [], []
    for child in children:
        left = []
        for unit in units:
            rows = sorted(
                said.get((child.pk, framework.pk, unit.key), []), key=lambda row: -row.version
            )
            if not rows or not rows[0].level:
                left.append(unit.title)
            decided = [row for row in rows if row.level]
            if len({row.level for row in decided}) > 1:
                differing.append(Differing(child, unit.title, decided))
        if left:
            missing.append(Missing(child, left))
    return ClassOverview(school_class, missing, differing)

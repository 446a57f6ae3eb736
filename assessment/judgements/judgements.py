"""Making judgements: each change is a new row, and nobody writes over what another decided.

Source: the statutory framework of the early years foundation stage, 2.2: staff draw on "their
own expert professional judgement and should not be required to prove this through collection of
physical evidence". So a judgement needs no tag, and no figure stands beside it but counts.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db import transaction

from assessment.insight.judgement import Beside, beside_judgement
from assessment.judgements.units import Unit, units_of
from assessment.models import Framework, Judgement, Period
from assessment.progress.evidence_strength import by_code, weighed
from portal.people.models import Child, SchoolClass, User


class JudgedMeanwhileError(Exception):
    """Somebody decided since the form was opened. Nothing was stored."""


class LockedError(Exception):
    """The judgement is locked. Nothing was stored."""


@dataclass(frozen=True)
class About:
    """What a judgement is about."""

    child: Child
    period: Period
    framework: Framework
    unit: str

    def versions(self) -> "list[Judgement]":
        """Return every version, the latest first."""
        found = Judgement.objects.filter(
            child=self.child, period=self.period, framework=self.framework, unit=self.unit
        )
        return list(found.select_related("by").order_by("-version"))


def judge(about: About, user: User, level: str, note: str, seen_version: int) -> Judgement:
    """Store the decision of *user*; with an empty *level* it takes the one before back.

    seen_version: the version on screen, 0 for none. Raises JudgedMeanwhileError, LockedError.
    """
    return _add(about, user, seen_version, level=level, note=note)


def lock(about: About, user: User, seen_version: int) -> Judgement:
    """Keep the decision from being changed. Raises JudgedMeanwhileError, LockedError."""
    last = about.versions()[:1]
    if not last or not last[0].level:
        raise JudgedMeanwhileError
    return _add(about, user, seen_version, level=last[0].level, note=last[0].note, locked=True)


def unlock(about: About, user: User, seen_version: int) -> Judgement:
    """Let the decision be changed again: for a lead. Raises JudgedMeanwhileError."""
    last = about.versions()[:1]
    if not last:
        raise JudgedMeanwhileError
    return _add(about, user, seen_version, level=last[0].level, note=last[0].note, unlocking=True)


def undo(about: About, user: User, seen_version: int) -> Judgement:
    """Say again what was said before the last change. Raises JudgedMeanwhileError, LockedError."""
    before = about.versions()[1:2]
    level, note = (before[0].level, before[0].note) if before else ("", "")
    return _add(about, user, seen_version, level=level, note=note)


@transaction.atomic
def _add(
    about: About, user: User, seen_version: int, *, unlocking: bool = False, **said: object
) -> Judgement:
    # The child's row is held, so that of two people the second finds the version of the first.
    Child.objects.select_for_update().get(pk=about.child.pk)
    last = next(iter(about.versions()), None)
    if (last.version if last else 0) != seen_version:
        raise JudgedMeanwhileError
    if last and last.locked and not unlocking:
        raise LockedError
    return Judgement.objects.create(
        child=about.child,
        period=about.period,
        framework=about.framework,
        unit=about.unit,
        version=seen_version + 1,
        by=user,
        **said,
    )


@dataclass(frozen=True)
class Judged:
    """One unit of one child: what stands, what was said before, and the evidence beside it."""

    unit: Unit
    beside: Beside
    versions: Sequence[Judgement]

    @property
    def standing(self) -> Judgement | None:
        """Return the decision that stands, if there is one."""
        return self.versions[0] if self.versions and self.versions[0].level else None

    @property
    def version(self) -> int:
        """Return the version on screen, 0 for none."""
        return self.versions[0].version if self.versions else 0

    @property
    def locked(self) -> bool:
        """Whether it is locked."""
        return bool(self.versions and self.versions[0].locked)


def judged_of_child(child: Child, period: Period, framework: Framework) -> list[Judged]:
    """Gather every unit of *framework* for *child* in a fixed number of queries."""
    units = units_of(framework)
    goals = [goal for unit in units for goal in unit.goals]
    found = by_code(weighed([child], child.school_class.school.today()), [child], goals)
    made: dict[str, list[Judgement]] = {}
    rows = Judgement.objects.filter(child=child, period=period, framework=framework)
    for row in rows.select_related("by").order_by("-version"):
        made.setdefault(row.unit, []).append(row)
    return [
        Judged(
            unit,
            beside_judgement(child.pk, [goal.code for goal in unit.goals], found),
            made.get(unit.key, []),
        )
        for unit in units
    ]


def standing_in(
    children: Iterable[Child], period: Period, framework: Framework
) -> dict[tuple[int, str], Judgement]:
    """Give the decision that stands on each child and unit, by the child's key and the unit's."""
    rows = Judgement.objects.filter(
        child__in=[child.pk for child in children], period=period, framework=framework
    )
    return {(row.child_id, row.unit): row for row in rows.active() if row.level}


def periods_of(school_class: SchoolClass) -> list[Period]:
    """Return the periods of the year of *school_class*, the last first.

    Every year has one at its end; a lead may add others.
    """
    year = school_class.year
    found = list(year.periods.all())
    if not found:
        last, _made = year.periods.get_or_create(name="", defaults={"ends": year.ends})
        found = [last]
    return found

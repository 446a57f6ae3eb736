"""What was gathered on each goal, for the children of a class or for one child.

A year of a full class is ten thousand tags. They are weighed when they have changed, and once
on a new day, since evidence grows old; otherwise what was weighed is read back.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields
from typing import Any

from django.db.models import Count, Max

from assessment.insight.rows import Role, Shown
from assessment.insight.strength import Missing, Seen, Strength, strength
from assessment.models import EvidenceWeighed, Goal, Tag, TagQuerySet
from assessment.progress.work_set.kinds_shown import KindsShown
from portal.people.models import Child

# By the keys of child and goal; what no tag speaks of is left out.
Weighed = dict[tuple[int, int], Strength]
KEPT = len(fields(Strength))
FIELDS = (
    *("pk", "child", "goal", "how", "by_assistant", "submission__day_plan"),
    *("submission__day_plan__date", "submission__help"),
)


def weighed(children: Sequence[Child], today: dt.date) -> Weighed:
    """Return the evidence of every goal that *children* have tags of, as of *today*."""
    keys = [child.pk for child in children]
    marks = marks_of(keys)
    kept = {row.child_id: row for row in EvidenceWeighed.objects.filter(child__in=keys)}
    stale = [
        child
        for child in children
        if child.pk in marks and not _stands(kept.get(child.pk), marks[child.pk], today)
    ]
    fresh = weigh_anew(stale, marks, today) if stale else []
    rows = [kept[key] for key in marks if key in kept] + fresh
    goals = {row.child_id: row.goals for row in rows}
    return {
        (child, int(goal)): _read(stored)
        for child in keys
        for goal, stored in goals.get(child, {}).items()
    }


def marks_of(children: list[int]) -> dict[int, tuple[int, int]]:
    """Give the count and the highest key of each child's tags; without tags a child is left out."""
    tags = Tag.objects.filter(child__in=children).order_by()
    found = tags.values_list("child").annotate(Count("pk"), Max("pk"))
    return {child: (count, newest) for child, count, newest in found}


def _stands(row: EvidenceWeighed | None, mark: tuple[int, int], today: dt.date) -> bool:
    if row is None or row.on != today or (row.tags, row.newest) != mark:
        return False
    # A row that another release of the portal kept may hold other fields.
    return all(len(stored) == KEPT for stored in row.goals.values())


def weigh_anew(
    children: Sequence[Child], marks: dict[int, tuple[int, int]], today: dt.date
) -> list[EvidenceWeighed]:
    """Weigh all tags of *children* and keep the outcome under *marks*, which were read before.

    A tag that came in between makes the mark differ, so that the next page weighs again.
    """
    tags = Tag.objects.filter(child__in=[child.pk for child in children])
    found = weigh_tags(tags, children, today)
    by_child: dict[int, dict[str, object]] = defaultdict(dict)
    for (child, goal), weight in found.items():
        by_child[child][str(goal)] = _kept(weight)
    rows = [
        EvidenceWeighed(
            child=child,
            tags=marks[child.pk][0],
            newest=marks[child.pk][1],
            on=today,
            goals=by_child[child.pk],
        )
        for child in children
    ]
    return EvidenceWeighed.objects.bulk_create(
        rows,
        update_conflicts=True,
        unique_fields=["child"],
        update_fields=["tags", "newest", "on", "goals"],
    )


def weigh_tags(
    tags: TagQuerySet,
    children: Sequence[Child],
    today: dt.date,
    only: Callable[[Shown], bool] = lambda row: True,
) -> Weighed:
    """Weigh *tags*, of *children*; of their rows those alone for which *only* is true."""
    rows = list(tags.order_by("shown_at", "pk").values_list(*FIELDS))
    kinds_of = dict(Goal.objects.filter(pk__in={row[2] for row in rows}).values_list("pk", "kinds"))
    shown_in = KindsShown({row[5] for row in rows}, children)
    sorted_in: dict[tuple[int, int], list[Shown]] = defaultdict(list)
    for _pk, child, goal, how, by_assistant, plan, on, help_given in rows:
        role = Role.ASSISTANT if by_assistant else Role.TEACHER
        kind = shown_in.kind(child, plan, kinds_of[goal])
        # Work that was sent ahead of its day is there already: it counts as of today.
        row = Shown(child, str(goal), how, min(on, today), kind, help_given, role)
        if only(row):
            sorted_in[child, goal].append(row)
    return {key: strength(shown, today, kinds_of[key[1]]) for key, shown in sorted_in.items()}


def by_code(
    found: Weighed, children: Iterable[Child], goals: Sequence[Goal]
) -> dict[tuple[int | str, str], Strength]:
    """Return the evidence of each of *children* on each of *goals*, by the goal's code."""
    nothing = Strength()
    return {
        (child.pk, goal.code): found.get((child.pk, goal.pk), nothing)
        for child in children
        for goal in goals
    }


def _kept(weight: Strength) -> list[object]:
    """Return *weight* as JSON can hold it: its fields in their order, without their names."""
    values = {each.name: getattr(weight, each.name) for each in fields(weight)}
    values["first_on"] = weight.first_on and weight.first_on.isoformat()
    values["latest"] = [(one.on.isoformat(), one.how) for one in weight.latest]
    return list(values.values())


def _read(stored: Sequence[Any]) -> Strength:
    """Read evidence as it was kept.

    >>> found = Strength(count=1, latest=(Seen(dt.date(2026, 11, 23), "not yet"),))
    >>> import json
    >>> _read(json.loads(json.dumps(_kept(found)))) == found
    True
    """
    *counts, kinds, against, first, latest, missing = stored
    return Strength(
        *counts,
        tuple(kinds),
        tuple(against),
        first and dt.date.fromisoformat(first),
        tuple(Seen(dt.date.fromisoformat(on), how) for on, how in latest),
        tuple(map(Missing, missing)),
    )

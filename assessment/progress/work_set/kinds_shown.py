"""Which kind of work a tag was shown in: tags name a submission, and a day has several parts."""

from collections.abc import Collection, Iterable
from functools import cache

from assessment.day_parts import groups_of
from portal.people.models import Child
from tasks.models import DayPlan, Task


class KindsShown:
    """The kinds that were set on some days, as each child was set them. Two queries."""

    def __init__(self, plans: Collection[int], children: Iterable[Child]) -> None:
        """Read what was set in *plans* (keys of day plans) and the groups of *children*."""
        self._set: dict[int, list[tuple[bool, int, str, int | None, str]]] = {}
        rows = Task.objects.filter(day_plan__in=plans).order_by("pk")
        for plan, order, *row in rows.values_list(
            "day_plan", "day_plan__order", "part", "group", "kind"
        ):
            as_planned, part = DayPlan(order=order), row[0]
            place = (part != as_planned.main_part, as_planned.steps.index(part))
            self._set.setdefault(plan, []).append((*place, *row))
        self._groups = {key: frozenset(held) for key, held in groups_of(list(children)).items()}
        self._of_day = cache(self._kinds_of_day)

    def kind(self, child: int, plan: int, goal_kinds: Collection[str]) -> str:
        """Name the kind of *plan* that shows a goal of *goal_kinds* best; the main task's first.

        Where none of the day's kinds can show it, the teacher saw more: it is the main task's.
        """
        kinds = self._of_day(plan, self._groups.get(child, frozenset()))
        return next((kind for kind in kinds if kind in goal_kinds), kinds[0] if kinds else "")

    def _kinds_of_day(self, plan: int, groups: frozenset[int]) -> tuple[str, ...]:
        """Give the kinds of a day for a child of *groups*: a group's part in place of the class's.

        The rule of TaskQuerySet.for_child.
        """
        chosen: dict[str, tuple[bool, int, str]] = {}
        ordered = sorted(self._set.get(plan, ()), key=lambda row: row[3] is None)
        for late, place, part, group, kind in ordered:
            if group is None or group in groups:
                chosen.setdefault(part, (late, place, kind))
        return tuple(dict.fromkeys(kind for _late, _place, kind in sorted(chosen.values())))

"""The parts of a day's work in plain words, as one child is set them."""

from collections import defaultdict
from dataclasses import dataclass

from portal.people.models import Child, Group
from tasks.models import DayPlan, Task
from tasks.numberwork import kind_kept


@dataclass(frozen=True)
class PartOfDay:
    """One part of a day's work in plain words: which part, and what it practises."""

    part: str
    title: str


def groups_of(children: list[Child]) -> dict[int, set[int]]:
    """Return the keys of the groups each child is in."""
    members = Group.children.through.objects.filter(child__in=children)
    found: dict[int, set[int]] = defaultdict(set)
    for child, group in members.values_list("child", "group"):
        found[child].add(group)
    return found


def parts_for(plan: DayPlan, groups: set[int]) -> list[PartOfDay]:
    """Return the parts of *plan* as a child of *groups* is set them: a group's in place of all's.

    The same rule as TaskQuerySet.for_child, for many children at once.
    """
    chosen: dict[str, Task] = {}
    for task in sorted(plan.tasks.all(), key=lambda task: (task.group_id is None, task.pk)):
        if task.group_id is None or task.group_id in groups:
            chosen.setdefault(task.part, task)
    ordered = sorted(chosen.values(), key=lambda task: task.position)
    return [PartOfDay(str(task.get_part_display()), title_of(task.kind)) for task in ordered]


def title_of(kind: str) -> str:
    """Return the title of a kind of work; its name where the kind is no longer there."""
    return kind_kept(kind).title

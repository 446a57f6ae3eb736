"""The plan of a day as its teacher sees it: each part with its card, and what can be done to it."""

from dataclasses import dataclass

from portal.people.models import Group
from tasks.cards.card import Part
from tasks.models import DayPlan, Task
from tasks.numberwork import KINDS, kind_kept
from tasks.numberwork.by_hand.reading import can_be_typed


@dataclass(frozen=True, slots=True)
class PlannedPart:
    """One part on the page of a day. groups: those that have no version of their own of it."""

    task: Task
    card: Part
    groups: list[Group]

    @property
    def depth_words(self) -> str:
        """Say what its depth means for its kind."""
        return kind_kept(self.task.kind).depths.get(self.task.depth, "")

    @property
    def has_page(self) -> bool:
        """Whether there is a page about its kind: not of what is done together, nor one gone."""
        return self.task.kind in KINDS

    @property
    def takes_numbers(self) -> bool:
        """Whether its questions can be named by their numbers."""
        return can_be_typed(self.task.kind)

    @property
    def can_be_redrawn(self) -> bool:
        """Whether its prompts may change: it is not locked, and no work was sent for it."""
        return not self.task.frozen and not self.task.locked

    @property
    def can_have_versions(self) -> bool:
        """Whether groups may be given versions of it: none of them has sent work for it."""
        return bool(self.groups) and not self.task.frozen


def first_missing_part(plan: DayPlan) -> str:
    """Return the first part of a day that *plan* does not have for the class; else the first."""
    there = set(plan.tasks.filter(group=None).values_list("part", flat=True)) if plan.pk else set()
    return next((part for part in Task.Part.values if part not in there), Task.Part.values[0])


def planned_parts(plan: DayPlan) -> list[PlannedPart]:
    """Give the parts of *plan* in order, the class's own before those of groups; three queries."""
    if plan.pk is None:
        return []
    tasks = plan.tasks.with_frozen().select_related("group").prefetch_related("prompts")
    tasks = sorted(tasks, key=lambda task: (task.position, task.group_id or 0))
    own = {(task.part, task.group_id) for task in tasks}
    groups = list(plan.school_class.groups.all())
    return [
        PlannedPart(
            task,
            Part.of(task),
            [group for group in groups if (task.part, group.pk) not in own],
        )
        for task in tasks
    ]

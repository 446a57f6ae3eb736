"""Giving groups their own main task on days that were drafted before they had their depth."""

import datetime as dt
from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from dataclasses import asdict, dataclass, field

from django.db.models import F, Prefetch, Subquery
from django.db.transaction import atomic
from django.utils.translation import gettext as _

from portal.people.models import Group, SchoolClass, User
from tasks.cards.wording import FIELDS, is_as_usual
from tasks.models import DayPlan, DayPlanQuerySet, Sequence, Task, TaskPrompt
from tasks.numberwork import EVERY_KIND
from tasks.plans.defaults import versions
from tasks.plans.planning import PlanningError
from tasks.plans.prompt_selection import Choice, new_seed
from tasks.plans.undo import change_of, undo_changes
from tasks.sequences.drafting import mark_changed
from tasks.sequences.prompts import asked_before_day, draw_together, in_order

MAIN = Task.Part.MAIN_TASK
FILLED = "filled"  # what marks a change of a plan as one of these


@dataclass(frozen=True, slots=True)
class Due:
    """What one group is to get on a drafted day in place of the class's *own* main task.

    choice: what is drawn, the numbers of the class at the depth of the group; None where the group
    does the class's own. old: the version of another depth that goes.
    """

    plan: DayPlan
    group: Group
    own: Task
    choice: Choice | None
    old: Task | None


@dataclass(slots=True)
class Waiting:
    """The drafted days on which a group has no main task of its depth yet.

    by_hand: days on which it has one of another depth that a teacher has changed, so it stays.
    """

    group: Group
    dates: list[dt.date] = field(default_factory=list)
    by_hand: list[dt.date] = field(default_factory=list)


def waiting(school_class: SchoolClass, sequence: Sequence | None = None) -> list[Waiting]:
    """Return the groups that wait for their main task on drafted days; five queries at most.

    sequence: count only its days.
    """
    groups = list(school_class.groups.all())
    found = {group.pk: Waiting(group) for group in groups}
    plans = with_tasks(drafts_of(school_class, sequence)) if groups else []
    for due in _due(plans, groups):
        found[due.group.pk].dates.append(due.plan.date)
    for version in _by_hand(plans, groups):
        found[version.group_id].by_hand.append(version.day_plan.date)
    return [each for each in found.values() if each.dates]


def fill_in(school_class: SchoolClass, by: User, sequence: Sequence | None = None) -> int:
    """Draw what groups wait for, all at once; gives how many days changed.

    Until the next change of a day `undo` takes it back. Days that are set are left alone, and so
    is what a teacher changed by hand. Raises PlanningError where nobody waits.
    """
    groups = list(school_class.groups.all())
    with atomic():
        plans = with_tasks(drafts_of(school_class, sequence).select_for_update())
        due = list(_due(plans, groups))
        if not due:
            raise PlanningError(_("Every group has its main task on the drafted days already."))
        _put_in(school_class, due, by)
    return len({each.plan.pk for each in due})


def _put_in(school_class: SchoolClass, due: list[Due], by: User) -> None:
    """Store the versions that are due, drawn beside all that is asked around them."""
    first, last = due[0].plan.date, due[-1].plan.date
    gone = {each.old.pk for each in due if each.old}
    plans = {each.plan.pk: each.plan for each in due}
    around = with_tasks(school_class.day_plans.between(first, last))
    asked = [task for plan in around for task in plan.tasks.all() if task.pk not in gone]
    new = [(each, _version(each)) for each in due if each.choice]
    tasks = in_order([*asked, *(task for _due, task in new)])
    anew = [task for task in tasks if task.pk is None]
    rows = draw_together(tasks, anew, new_seed(), asked_before_day(school_class, first))
    Task.objects.filter(pk__in=gone).delete()
    Task.objects.bulk_create(anew)
    TaskPrompt.objects.bulk_create(rows)
    mark_changed(list(plans.values()), by)
    for pk, plan in plans.items():
        out = [each.old for each in due if each.plan.pk == pk and each.old]
        put_in = [task for each, task in new if each.plan.pk == pk]
        plan.taken_out = {**change_of(out, put_in), FILLED: True}
    DayPlan.objects.bulk_update(plans.values(), ["taken_out"])
    count_change(plans.values())


def filled_last(school_class: SchoolClass) -> DayPlanQuerySet:
    """Return the drafted days that the last `fill_in` changed and nobody has changed since."""
    drafts = school_class.day_plans.drafts().filter(**{f"taken_out__{FILLED}": True})
    last = drafts.order_by("-changed_at").values("changed_at")[:1]
    return drafts.filter(changed_at=Subquery(last)).order_by("date")


def undo(school_class: SchoolClass, by: User) -> int:
    """Take back what `fill_in` did last; gives on how many days. Raises PlanningError."""
    with atomic():
        plans = list(filled_last(school_class).select_for_update())
        if not plans:
            raise PlanningError(_("There is nothing to take back."))
        undo_changes([(plan, plan.taken_out) for plan in plans])
        mark_changed(plans, by)
        count_change(plans)
    return len(plans)


def count_change(plans: Iterable[DayPlan]) -> None:
    """Count a change of the sequences of *plans*, after the days as all actions lock them."""
    sequences = {plan.sequence_id for plan in plans}
    Sequence.objects.filter(pk__in=sequences - {None}).update(version=F("version") + 1)


def drafts_of(school_class: SchoolClass, sequence: Sequence | None) -> DayPlanQuerySet:
    """Return the days still to come that are drafted and not set, of a sequence or of all."""
    drafts = school_class.day_plans.drafts().filter(date__gte=school_class.school.today())
    return (drafts.filter(sequence=sequence) if sequence else drafts).order_by("date")


def with_tasks(plans: DayPlanQuerySet) -> list[DayPlan]:
    """Fetch the tasks and prompts of *plans*, each task with its plan."""
    tasks = Prefetch("tasks", Task.objects.select_related("group").prefetch_related("prompts"))
    found = list(plans.prefetch_related(tasks))
    for plan in found:
        for task in plan.tasks.all():
            task.day_plan = plan
    return found


def _due(plans: Iterable[DayPlan], groups: Iterable[Group]) -> Iterator[Due]:
    """Yield what is to be drawn, day by day; nothing in place of what was changed by hand."""
    plans = list(plans)
    together = _drawn_together(plans)
    for plan in plans:
        mains = {task.group_id: task for task in plan.tasks.all() if task.part == MAIN}
        own = mains.get(None)
        if own is None or own.kind not in EVERY_KIND:
            continue
        for group in groups:
            old = mains.get(group.pk)
            if old and (old.depth == group.depth or is_by_hand(old, together)):
                continue
            usual = versions(Choice.of(own), [group])
            if usual or old:
                yield Due(plan, group, own, usual[0][1] if usual else None, old)


def _by_hand(plans: Iterable[DayPlan], groups: Iterable[Group]) -> Iterator[Task]:
    """Yield the versions of another depth than their group's that a teacher has changed."""
    plans = list(plans)
    together = _drawn_together(plans)
    depths = {group.pk: group.depth for group in groups}
    for plan in plans:
        for task in plan.tasks.all():
            is_other = task.part == MAIN and depths.get(task.group_id, task.depth) != task.depth
            if is_other and is_by_hand(task, together):
                yield task


def _drawn_together(plans: Iterable[DayPlan]) -> set[dt.datetime]:
    """Return the moments at which several parts were drawn at once: a draft, and nobody's hand."""
    moments = Counter(task.drawn_at for plan in plans for task in plan.tasks.all())
    return {moment for moment, parts in moments.items() if parts > 1}


def is_by_hand(version: Task, together: Collection[dt.datetime]) -> bool:
    """Tell whether a teacher locked, reworded or drew *version*: it may not be replaced."""
    return version.locked or not is_as_usual(version) or version.drawn_at not in together


def _version(due: Due) -> Task:
    """Return the unsaved version of a group, in the words of the class."""
    words = {name: getattr(due.own, name) for name in FIELDS}
    return Task(day_plan=due.plan, part=MAIN, group=due.group, **asdict(due.choice), **words)

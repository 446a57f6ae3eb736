"""Drafting a sequence: from its written route, or like an earlier one, with new prompts."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace

from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from portal.people.models import Group, SchoolClass, User
from tasks.cards.wording import FIELDS, Wording, usual_wording
from tasks.models import DayPlan, Sequence, Task, TaskPrompt
from tasks.numberwork import EVERY_KIND, DayDraft, plan_sequence
from tasks.plans.defaults import of_today, versions
from tasks.plans.planning import PlanningError
from tasks.plans.prompt_selection import Choice, facts_met, new_seed
from tasks.sequences.prompts import Earlier, asked_earlier, draw_together, in_order
from tasks.sequences.school_days import free_days


@dataclass(frozen=True, slots=True)
class Order:
    """What a teacher asks for: a focus, so many days (5 to 15), numbers up to, from when on.

    known: kinds the class has met, longest ago first.
    """

    focus: str
    days: int
    within: int
    first: dt.date
    known: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NewPart:
    """A part to be drawn, with its words; for the class or for a group.

    versions: what groups of another depth get in its place, where that is not just its depth.
    """

    part: str
    choice: Choice
    wording: Wording
    group: Group | None = None
    versions: Mapping[str, Choice] = field(default_factory=dict)


def draft(school_class: SchoolClass, order: Order, by: User) -> Sequence:
    """Draft the days of a sequence; families see none of it before it is set.

    Raises PlanningError, and ValueError as plan_sequence does.
    """
    dates = free_days(school_class, order.first, order.days)
    seed = new_seed()
    facts = facts_met(school_class, dates[0])
    known = {kind: facts.get(kind, ()) for kind in order.known}
    drafts = plan_sequence(order.focus, order.days, order.within, seed, known or None)
    sequence = Sequence(
        school_class=school_class,
        focus=order.focus,
        within=order.within,
        first=dates[0],
        last=dates[-1],
        seed=seed,
        known=list(order.known),
        made_by=by,
    )
    return _lay(sequence, dates, [_parts(each) for each in drafts], by)


def _parts(drafted: DayDraft) -> list[NewPart]:
    """Read a drafted day as parts for the class."""
    parts = []
    for name, part in drafted.parts.items():
        idea = part.idea if name == Task.Part.TRY_AT_HOME else ""
        wording = usual_wording(name, part.kind, idea, explains=part.explains)
        parts.append(NewPart(name, part.choice, wording, versions=part.versions))
    return parts


def copy(source: Sequence, school_class: SchoolClass, first: dt.date, by: User) -> Sequence:
    """Draft the kinds, steps and words of *source* once more from *first* on, with new prompts.

    Groups get versions by their depth now. Raises PlanningError.
    """
    tasks = Task.objects.filter(day_plan__sequence=source, group=None, kind__in=EVERY_KIND)
    by_date: dict[dt.date, list[Task]] = {}
    for task in in_order(tasks.select_related("day_plan")):
        by_date.setdefault(task.day_plan.date, []).append(task)
    if not by_date:
        raise PlanningError(_("Nothing is left of that sequence to copy."))
    dates = free_days(school_class, first, len(by_date))
    sequence = Sequence(
        school_class=school_class,
        focus=source.focus,
        within=source.within,
        first=dates[0],
        last=dates[-1],
        seed=new_seed(),
        known=source.known,
        made_by=by,
    )
    return _lay(sequence, dates, [list(map(_copied, each)) for each in by_date.values()], by)


def _copied(task: Task) -> NewPart:
    """Read a part of an earlier sequence, with as many prompts as a day asks now."""
    wording = Wording(*(getattr(task, name) for name in FIELDS))
    return NewPart(task.part, of_today(Choice.of(task), task.part), wording)


def _lay(sequence: Sequence, dates: list[dt.date], days: list[list[NewPart]], by: User) -> Sequence:
    """Put the parts of each day, and the groups' versions, on its date, all at once."""
    groups = list(sequence.school_class.groups.all())
    earlier = asked_earlier(sequence.school_class, sequence)
    with transaction.atomic():
        plans = hold_empty_days(sequence.school_class, dates, by)
        sequence.save()
        tasks = []
        for plan, parts in zip(plans, days, strict=True):
            plan.sequence, plan.focus = sequence, _focus(parts)
            every = [*parts, *(each for part in parts for each in _for_groups(part, groups))]
            tasks += [_task(plan, each) for each in every]
        mark_changed(plans, by, "sequence", "focus")
        _save(in_order(tasks), sequence.seed, earlier)
    return sequence


def _for_groups(part: NewPart, groups: list[Group]) -> list[NewPart]:
    """Return the groups' versions of a part: of the main task only."""
    if part.part != Task.Part.MAIN_TASK:
        return []
    return [
        replace(part, choice=part.versions.get(group.depth, choice), group=group)
        for group, choice in versions(part.choice, groups)
    ]


def _focus(parts: list[NewPart]) -> str:
    """Name what a day is about: its main task."""
    main = (each.choice.kind for each in parts if each.part == Task.Part.MAIN_TASK)
    return next((EVERY_KIND[kind].title for kind in main), "")


def _task(plan: DayPlan, new: NewPart) -> Task:
    return Task(
        day_plan=plan, part=new.part, group=new.group, **asdict(new.choice), **asdict(new.wording)
    )


def _save(tasks: list[Task], seed: int, earlier: Earlier) -> None:
    """Draw and store tasks that are not stored yet."""
    rows = draw_together(tasks, tasks, seed, earlier)
    Task.objects.bulk_create(tasks)
    TaskPrompt.objects.bulk_create(rows)


def hold_empty_days(school_class: SchoolClass, dates: list[dt.date], by: User) -> list[DayPlan]:
    """Hold the plans of *dates* within a transaction, made where they are missing, in order.

    Raises PlanningError when one of them has parts: somebody was quicker.
    """
    DayPlan.objects.bulk_create(
        [DayPlan(school_class=school_class, date=date, version=0, made_by=by) for date in dates],
        ignore_conflicts=True,
    )
    held = DayPlan.objects.select_for_update().filter(school_class=school_class, date__in=dates)
    plans = list(held.order_by("date"))
    if taken := DayPlan.objects.filter(pk__in=[plan.pk for plan in plans]).planned().first():
        raise PlanningError(
            _("%(day)s has been planned in the meantime, so nothing was drafted. Look at it first.")
            % {"day": date_format(taken.date, "l j F")}
        )
    return plans


def mark_changed(plans: list[DayPlan], by: User, *fields: str) -> None:
    """Count a change of each of *plans*, by whom and when, and save it with *fields*."""
    now = timezone.now()
    for plan in plans:
        plan.version += 1
        plan.changed_by, plan.changed_at, plan.taken_out = by, now, None
    DayPlan.objects.bulk_update(
        plans, ["version", "changed_by", "changed_at", "taken_out", *fields]
    )

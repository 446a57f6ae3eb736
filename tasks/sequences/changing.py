"""Changing a drafted sequence: places are swapped, parts locked, the rest drawn again.

As with a single day, each action says which version its teacher saw, is one transaction, and
refuses with a sentence for people. The version of a sequence counts the changes of its days too.
"""

import datetime as dt
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from django.db.models import Value
from django.db.models.functions import Concat
from django.db.transaction import atomic
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from tasks.cards.wording import is_as_usual, say_as_usual
from tasks.models import DayPlan, Sequence, Task
from tasks.numberwork import kind_kept
from tasks.plans.planning import ChangedMeanwhileError, PlanningError, Seen
from tasks.sequences.drafting import mark_changed
from tasks.sequences.prompts import asked_earlier, in_order, redraw, repeated
from tasks.sequences.slots import Place


@dataclass
class Held:
    """A sequence held for one action, with its plans in order and, once asked for, their tasks."""

    sequence: Sequence
    plans: list[DayPlan]
    touched: set[int] = field(default_factory=set)

    def tasks(self) -> list[Task]:
        """Return the tasks of every day in order, with their prompts; two queries."""
        by_pk = {plan.pk: plan for plan in self.plans}
        tasks = Task.objects.filter(day_plan__in=by_pk).select_related("group")
        found = list(tasks.prefetch_related("prompts"))
        for task in found:
            task.day_plan = by_pk[task.day_plan_id]
        return in_order(found)

    def plan(self, date: dt.date) -> DayPlan:
        """Return the plan of one of its days. Raises PlanningError."""
        for plan in self.plans:
            if plan.date == date:
                return plan
        raise PlanningError(_("That day is no longer in this sequence. Here it is as it is now."))

    def touch(self, *plans: DayPlan) -> None:
        """Note that the action changes these plans."""
        self.touched |= {plan.pk for plan in plans}


@contextmanager
def changing(sequence: Sequence, seen: Seen) -> Iterator[Held]:
    """Hold a sequence and its days for one action, and count the change.

    Raises ChangedMeanwhileError. The days are locked before the sequence, as actions on a day do.
    """
    with atomic():
        days = DayPlan.objects.select_for_update().filter(sequence=sequence.pk)
        plans = list(days.order_by("date"))
        held = Held(Sequence.objects.select_for_update().get(pk=sequence.pk), plans)
        if held.sequence.version != seen.version:
            raise ChangedMeanwhileError(_who_changed(plans))
        held.sequence.thrown_away = None
        yield held
        if touched := [plan for plan in held.plans if plan.pk in held.touched]:
            mark_changed(touched, seen.by, "focus", "note", "goes_out_at", "sequence")
        held.sequence.version += 1
        held.sequence.save()


def _who_changed(plans: list[DayPlan]) -> str:
    """Say who changed a day last, and that nothing was written over it."""
    changed = [plan for plan in plans if plan.changed_at]
    latest = max(changed, key=lambda plan: plan.changed_at, default=None)
    name = (latest and latest.changed_by) or _("Somebody else")
    return _(
        "%(name)s has changed these days since you opened them, so your change was not made. "
        "Here they are as they are now: look at them, then do it again if it still fits."
    ) % {"name": name}


def swap(sequence: Sequence, one: Place, other: Place, seen: Seen) -> int:
    """Let two days, or two parts, change places; groups' versions go along.

    Prompts that would come twice within days of each other in the new place are drawn again;
    gives of how many parts. Raises PlanningError.
    """
    if one == other or bool(one.part) != bool(other.part):
        raise PlanningError(_("Choose two different days, or two different parts."))
    with changing(sequence, seen) as held:
        plans = {place: held.plan(place.date) for place in (one, other)}
        tasks = held.tasks()
        moved = [task for task in tasks if one.holds(task) or other.holds(task)]
        _refuse_what_stays(list(plans.values()), moved)
        before = _titles(tasks)
        _exchange(moved, one, other, plans)
        _exchange_words(one, other, plans, before, _titles(tasks))
        held.touch(*plans.values())
        tasks = in_order(tasks)
        twice = {task.pk for task in repeated(tasks)} & {task.pk for task in moved}
        anew = [task for task in tasks if task.pk in twice]
        if anew:
            redraw(tasks, anew, asked_earlier(sequence.school_class, held.sequence))
    return len(anew)


def _refuse_what_stays(plans: list[DayPlan], moved: list[Task]) -> None:
    """Raise PlanningError for a day that families see, and for a part that is locked."""
    for plan in plans:
        if plan.is_out:
            raise PlanningError(
                _("Families see %(day)s already, so it stays as it is.")
                % {"day": date_format(plan.date, "l j F")}
            )
    if locked := next((task for task in moved if task.locked), None):
        raise PlanningError(
            _("The %(part)s of %(day)s is locked. Unlock it first.")
            % {
                "part": locked.get_part_display(),
                "day": date_format(locked.day_plan.date, "l"),
            }
        )


def _exchange(moved: list[Task], one: Place, other: Place, plans: dict[Place, DayPlan]) -> None:
    """Move every task of each place to the other; words nobody edited follow a new part."""
    parking = Task.objects.filter(pk__in=[task.pk for task in moved])
    # No two tasks may stand in one place even for a moment: the moved ones step aside first.
    parking.update(part=Concat(Value("~"), "part"))
    for task in moved:
        to = other if one.holds(task) else one
        usual = is_as_usual(task)
        task.day_plan = plans[to]
        if to.part and to.part != task.part:
            task.part = to.part
            if usual:
                say_as_usual(task, _idea(task))
    Task.objects.bulk_update(moved, ["day_plan", "part", "words", "fetch", "say", "caution"])


def _idea(task: Task) -> str:
    """Return what to try a part at home with: the idea it had, or the first of its kind."""
    ideas = kind_kept(task.kind).fetch
    if task.part != Task.Part.TRY_AT_HOME or not ideas:
        return ""
    return task.fetch if task.fetch in ideas else ideas[0]


def _titles(tasks: list[Task]) -> dict[dt.date, str]:
    """Return the title of each day's main task."""
    return {
        task.day_plan.date: task.title
        for task in tasks
        if task.part == Task.Part.MAIN_TASK and task.group_id is None
    }


def _exchange_words(
    one: Place,
    other: Place,
    plans: dict[Place, DayPlan],
    before: dict[dt.date, str],
    after: dict[dt.date, str],
) -> None:
    """Let the word to families go with a whole day, and what a day is about with its main task.

    before, after: the titles of the main tasks by day; a focus that says neither was worded by a
    teacher and stays.
    """
    first, second = plans[one], plans[other]
    if not one.part:
        first.note, second.note = second.note, first.note
    if {one.part, other.part} <= {"", Task.Part.MAIN_TASK}:
        first.focus, second.focus = second.focus, first.focus
        return
    for plan in (first, second):
        if plan.focus == before.get(plan.date):
            plan.focus = after.get(plan.date, "")


def lock_day(sequence: Sequence, date: dt.date, locked: bool, seen: Seen) -> None:
    """Keep all parts of a day as and where they are, or no longer. Raises PlanningError."""
    with changing(sequence, seen) as held:
        plan = held.plan(date)
        plan.tasks.update(locked=locked)
        held.touch(plan)


def lock_part(sequence: Sequence, place: Place, locked: bool, seen: Seen) -> None:
    """Keep a part, groups' versions too, as and where it is, or no longer. Raises PlanningError."""
    with changing(sequence, seen) as held:
        plan = held.plan(place.date)
        if not plan.tasks.filter(part=place.part).update(locked=locked):
            raise PlanningError(_("That part is no longer there. Here is the plan as it is."))
        held.touch(plan)


def redraw_rest(sequence: Sequence, seen: Seen) -> list[Task]:
    """Draw again what is neither locked nor set. Raises PlanningError.

    No child is asked a prompt twice within days, and what was set lately is avoided. Gives the
    parts that now have fewer prompts, since there are no others of their kind.
    """
    with changing(sequence, seen) as held:
        tasks = held.tasks()
        anew = [task for task in tasks if not task.locked and not task.day_plan.goes_out_at]
        if not anew:
            raise PlanningError(_("Everything is locked or set, so there are no new questions."))
        fewer = redraw(tasks, anew, asked_earlier(sequence.school_class, held.sequence))
        held.touch(*(task.day_plan for task in anew))
    return fewer

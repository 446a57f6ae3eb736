"""Planning a day: the actions of a teacher on the plan of one class for one date.

Each action says which version of the plan its teacher saw. If somebody else has changed the plan
since, nothing is written and ChangedMeanwhileError tells who; so two teachers cannot overwrite each
other. Each action is one transaction. What it refuses, it refuses with a sentence for people.
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass

from django.db import transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _

from portal.people.models import Group, User
from tasks.cards.wording import FIELDS, Wording, is_as_usual, next_idea, say_as_usual
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.models import Sequence as DaySequence
from tasks.numberwork import Prompt
from tasks.plans.prompt_selection import (
    CannotDrawError,
    Choice,
    asked_beside,
    at_depth,
    draw_for,
    draw_in_place_of,
    own_of,
    with_own,
)
from tasks.plans.undo import change_of, put_whole, undo_changes, whole


class PlanningError(Exception):
    """An action that cannot be done; the text says why and what to do."""


class ChangedMeanwhileError(PlanningError):
    """Somebody else changed the plan since it was shown."""


@dataclass(frozen=True, slots=True)
class Seen:
    """Who acts, and which version of the plan was on the screen; 0: there was no plan yet."""

    version: int
    by: User


@contextmanager
def changing(plan: DayPlan, seen: Seen) -> Iterator[DayPlan]:
    """Hold the plan for one action and count the change. Raises ChangedMeanwhileError.

    plan: stored, or only with its class and date; then it is made.
    """
    with transaction.atomic():
        held, _made = DayPlan.objects.select_for_update().get_or_create(
            school_class_id=plan.school_class_id,
            date=plan.date,
            defaults={"version": 0, "made_by": seen.by},
        )
        if held.version != seen.version:
            raise ChangedMeanwhileError(_who_changed(held))
        held.taken_out = None
        yield held
        held.version += 1
        held.changed_by, held.changed_at = seen.by, timezone.now()
        held.save()
        # After the plan, as the actions on a whole sequence do: who locks in one order cannot lock
        # each other out.
        DaySequence.objects.filter(pk=held.sequence_id).update(version=F("version") + 1)


def _who_changed(plan: DayPlan) -> str:
    """Say who changed the plan, and that nothing was written over it."""
    name = plan.changed_by or plan.made_by or _("Somebody else")
    return _(
        "%(name)s has changed this plan since you opened it, so your change was not made. "
        "Here is the plan as it is now: look at it, then do it again if it still fits."
    ) % {"name": name}


@contextmanager
def changing_part(task: Task, seen: Seen, prompts_too: bool = True) -> Iterator[Task]:
    """Hold the plan of *task* and give the task as it is now. Raises PlanningError.

    prompts_too: what follows touches the prompts, so the part must be neither locked nor frozen.
    """
    with changing(task.day_plan, seen) as plan:
        held = plan.tasks.with_frozen().select_related("day_plan").get(pk=task.pk)
        held.day_plan = plan
        if prompts_too:
            _refuse_frozen(held)
        if prompts_too and held.locked:
            raise PlanningError(_("This part is locked. Unlock it first."))
        yield held


def _refuse_frozen(task: Task) -> None:
    if task.frozen:
        raise PlanningError(
            _("Families have sent work for this part, so its questions stay as they are.")
        )


def draft_day(
    plan: DayPlan,
    choices: dict[str, Choice],
    seen: Seen,
    focus: str | None = None,
    versions: Iterable[tuple[Group, Choice]] = (),
) -> None:
    """Draft every part in *choices* (part → what to draw) that the plan does not have yet.

    versions: of the main task, for groups. Raises PlanningError.
    """
    with changing(plan, seen) as held:
        there = set(held.tasks.filter(group=None).values_list("part", flat=True))
        for part, choice in choices.items():
            if part not in there:
                _add(held, part, None, choice)
        if Task.Part.MAIN_TASK not in there:
            for group, choice in versions:
                _add(held, Task.Part.MAIN_TASK, group, choice)
        if focus is not None:
            held.focus = focus


def add_part(
    plan: DayPlan,
    part: str,
    choice: Choice,
    seen: Seen,
    group: Group | None = None,
    own: Iterable[TaskPrompt] = (),
) -> Task:
    """Add *part* for the class, or in place of the class's own for *group*.

    own: prompts that the teacher wrote herself, to come along. Raises PlanningError.
    """
    with changing(plan, seen) as held:
        if held.tasks.filter(part=part, group=group).exists():
            raise PlanningError(_("This plan already has that part. Change the one that is there."))
        if held.tasks.with_frozen().filter(part=part, frozen=True).exists():
            raise PlanningError(
                _("Families have sent work for this part, so no group can be given another.")
            )
        return _add(held, part, group, choice, own)


def give_groups(task: Task, groups: Sequence[Group], seen: Seen) -> None:
    """Give several groups a version of a part at once; until the next change `put_back` undoes it.

    Of the class's own each gets one at its own depth, groups of one depth the same questions; of
    a group's version the very same. Raises PlanningError.
    """
    with changing_part(task, seen, prompts_too=False) as held:
        plan, others = held.day_plan, held.day_plan.tasks.filter(part=held.part)
        if not groups:
            raise PlanningError(_("Tick at least one group."))
        if others.filter(group__in=groups).exists():
            raise PlanningError(_("One of these groups has its own version already."))
        if others.with_frozen().filter(frozen=True).exists():
            raise PlanningError(
                _("Families have sent work for this part, so no group can be given another.")
            )
        made: list[Task] = []
        for group in groups:
            like = held if held.group_id else next(_of_depth(made, group), None)
            if like is None:
                choice = at_depth(Choice.of(held), group.depth)
                made.append(_add(plan, held.part, group, choice, own_of(held)))
            else:
                kept = whole(like)
                kept["task"] |= {"group_id": group.pk, "locked": False}
                made += put_whole([(plan, kept)])
        plan.taken_out = change_of(put_in=made)


def _of_depth(tasks: Iterable[Task], group: Group) -> Iterator[Task]:
    """Yield those of *tasks* that are at the depth of *group*."""
    return (task for task in tasks if task.depth == group.depth)


def _add(
    plan: DayPlan,
    part: str,
    group: Group | None,
    choice: Choice,
    own: Iterable[TaskPrompt] = (),
) -> Task:
    task = Task(day_plan=plan, part=part, group=group, **asdict(choice))
    say_as_usual(task, next_idea(task))
    _fill(task, own)
    return task


def _fill(task: Task, own: Iterable[TaskPrompt] = ()) -> None:
    """Draw the prompts of *task* and save both; those that its teacher wrote herself stay.

    own: such prompts to come along.
    """
    if not task.count:
        raise PlanningError(
            _("All these questions are your own. Take one out to get another in its place.")
        )
    try:
        drawn = draw_for(task)
    except CannotDrawError:
        raise PlanningError(no_more(task)) from None
    hold(task, drawn.prompts, drawn.seed, own)


def hold(task: Task, drawn: Iterable[Prompt], seed: int, own: Iterable[TaskPrompt] = ()) -> None:
    """Save *task* with prompts *drawn* by *seed* in place of those it had, but for its own.

    own: further ones that its teacher wrote herself.
    """
    task.seed = seed
    lay(task, with_own([*own_of(task), *own], drawn))


def lay(task: Task, prompts: Iterable[Prompt]) -> None:
    """Save *task* with exactly *prompts*, in order."""
    task.drawn_at = timezone.now()
    task.save()
    task.prompts.all().delete()
    TaskPrompt.objects.bulk_create(
        TaskPrompt.of(task, position, prompt) for position, prompt in enumerate(prompts)
    )


def no_more(task: Task) -> str:
    """Say that there are not enough prompts for *task*, and what to do."""
    return _(
        "There are not enough prompts of “%(kind)s” within %(within)s that are not on the plan "
        "already. Ask for fewer, or for a larger range."
    ) % {"kind": task.title, "within": task.within}


def change_part(task: Task, choice: Choice, seen: Seen) -> None:
    """Draw the part again as *choice*; words nobody edited follow the kind. Raises
    PlanningError."""
    with changing_part(task, seen) as held:
        words_follow = is_as_usual(held) and choice.kind != held.kind
        for name, value in asdict(choice).items():
            setattr(held, name, value)
        if words_follow:
            say_as_usual(held, next_idea(held))
        _fill(held)


def redraw_part(task: Task, seen: Seen) -> None:
    """Draw new prompts for the part, repeating none of the day's. Raises PlanningError."""
    with changing_part(task, seen) as held:
        _fill(held)


def redraw_prompt(task: Task, position: int, seen: Seen) -> None:
    """Draw a new prompt at *position*, repeating none of the day's.

    Raises PlanningError, and TaskPrompt.DoesNotExist where there is no such position.
    """
    with changing_part(task, seen) as held:
        row = held.prompts.get(position=position)
        if row.is_own:
            raise PlanningError(_("This question is your own. Take it out, or change it."))
        try:
            prompt = draw_in_place_of(row.prompt, Choice.of(held), asked_beside(held))
        except CannotDrawError:
            raise PlanningError(no_more(held)) from None
        row.delete()
        TaskPrompt.of(held, position, prompt).save()
        held.drawn_at = timezone.now()
        held.save()


def reword_part(task: Task, wording: Wording, seen: Seen) -> None:
    """Put other words on the part; its prompts stay. Raises PlanningError."""
    with changing_part(task, seen, prompts_too=False) as held:
        for field in FIELDS:
            setattr(held, field, getattr(wording, field))
        held.save()


def lock_part(task: Task, locked: bool, seen: Seen) -> None:
    """Keep the part from being drawn again or removed, or allow it. Raises PlanningError."""
    with changing_part(task, seen, prompts_too=False) as held:
        held.locked = locked
        held.save()


def remove_part(task: Task, seen: Seen) -> None:
    """Remove the part; until the next change `put_back` undoes it. Raises PlanningError."""
    with changing_part(task, seen) as held:
        if held.day_plan.goes_out_at and held.day_plan.tasks.count() == 1:
            raise PlanningError(
                _("This is the only part of a day that is set. Add another part first.")
            )
        held.day_plan.taken_out = change_of(out=[held])
        held.delete()


def put_back(plan: DayPlan, seen: Seen) -> None:
    """Undo taking parts out, changing one, or putting groups' versions in, if that came last.

    Raises PlanningError.
    """
    with changing(plan, seen) as held:
        kept = DayPlan.objects.get(pk=held.pk).taken_out
        if kept is None:
            raise PlanningError(_("There is nothing to put back."))
        for stands in held.tasks.with_frozen().filter(pk__in=kept.get("put_in", ())):
            _refuse_frozen(stands)
        undo_changes([(held, kept)])

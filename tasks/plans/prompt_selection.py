"""Drawing the prompts of a part, so that nothing that is there, or was just asked, is repeated."""

import datetime as dt
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.db.models import Q

from tasks.models import Task, TaskPrompt
from tasks.numberwork import Prompt, kind_kept, make_prompts

LOOK_BACK = dt.timedelta(days=7)


class CannotDrawError(Exception):
    """There are not enough prompts of this kind that are not there already."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What to draw: a kind in KINDS, one of its ranges, how many (1 or more), a depth.

    number: what a kind about one number is about, where that was chosen.
    """

    kind: str
    within: int
    count: int
    depth: str
    number: int | None = None

    @classmethod
    def of(cls, task: Task) -> "Choice":
        """Return what *task* was drawn as."""
        return cls(task.kind, task.within, task.count, task.depth, task.number)


def asked_beside(task: Task) -> set[str]:
    """Return the keys of all prompts that who gets *task* is asked that day, its own included.

    What a group's version replaces is not among them.
    """
    own = Q(task__group=task.group_id)
    beside = Q(task__group=None) & ~Q(task__part=task.part)
    rows = TaskPrompt.objects.filter(own | beside, task__day_plan=task.day_plan_id)
    return {row.key for row in rows}


def asked_lately(task: Task) -> set[str]:
    """Return the keys of prompts of its kind that the class was set in the week before *task*."""
    day = task.day_plan.date
    rows = TaskPrompt.objects.filter(
        task__day_plan__school_class=task.day_plan.school_class_id,
        task__day_plan__date__range=(day - LOOK_BACK, day - dt.timedelta(days=1)),
        task__kind=task.kind,
    )
    return {row.key for row in rows}


def draw(choice: Choice, avoid: Iterable[str], rather_not: Iterable[str] = ()) -> "Drawn":
    """Draw the prompts of a part, none of them in *avoid*, nor in *rather_not* if that can be.

    Raises CannotDrawError.
    """
    must = frozenset(avoid)
    for avoided in (must.union(rather_not), must):
        seed = secrets.randbelow(2**31)
        try:
            prompts = make_prompts(
                choice.kind,
                choice.within,
                choice.count,
                seed,
                avoid=avoided,
                depth=choice.depth,
                number=choice.number,
            )
        except ValueError as error:
            too_few = error
        else:
            return Drawn(seed, prompts)
    raise CannotDrawError from too_few


def draw_in_place_of(old: Prompt, choice: Choice, avoid: set[str]) -> Prompt:
    """Draw one prompt that is not in *avoid* to stand where *old* stood. Raises CannotDrawError.

    In a set about one number it is about the same number.
    """
    number = old.numbers[0] if kind_kept(choice.kind).one_number else None
    return draw(replace(choice, count=1, number=number), avoid).prompts[0]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A set of prompts and the seed it was drawn from."""

    seed: int
    prompts: tuple[Prompt, ...]

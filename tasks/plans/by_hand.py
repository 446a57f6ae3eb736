"""What a teacher types herself, put on a part of a day."""

from dataclasses import asdict

from django.utils.translation import gettext as _

from tasks.models import Task, TaskPrompt
from tasks.numberwork import Prompt
from tasks.numberwork.by_hand.reading import MOST, Typed, made
from tasks.numberwork.sequences.only import Only
from tasks.plans.planning import PlanningError, Seen, changing_part, hold, lay, no_more
from tasks.plans.prompt_selection import CannotDrawError, draw_for, new_seed
from tasks.plans.undo import change_of


def ask_numbers(task: Task, within: int, typed: Typed, seen: Seen) -> None:
    """Ask exactly the questions that were typed, in their order. Raises PlanningError.

    The part keeps to their facts, also when new questions are drawn. typed: without refusals.
    """
    with changing_part(task, seen) as held:
        held.day_plan.taken_out = change_of([held], [held])
        held.within, held.count, held.number = within, len(typed.found), None
        held.only = asdict(Only(facts=typed.facts))
        seed = new_seed()
        hold(held, made(typed, held.kind, within, seed), seed)


def ask_about(task: Task, within: int, number: int, seen: Seen) -> None:
    """Ask as many questions as before, about *number*. Raises PlanningError."""
    with changing_part(task, seen) as held:
        held.day_plan.taken_out = change_of([held], [held])
        held.within, held.number = within, number
        try:
            drawn = draw_for(held)
        except CannotDrawError:
            raise PlanningError(no_more(held)) from None
        hold(held, drawn.prompts, drawn.seed)


def add_own(task: Task, prompt: Prompt, place: int | None, seen: Seen) -> None:
    """Put a question of the teacher's own on the part: in the place of another, or last.

    place: the position of the one it replaces. Raises PlanningError.
    """
    with changing_part(task, seen) as held:
        rows = list(held.prompts.all())
        if any(row.fact == f"{prompt.kind}/{prompt.fact}" for row in rows):
            raise PlanningError(_("This part has that question already."))
        if place is None and len(rows) >= MOST:
            raise PlanningError(_("This part has as many questions as a child can do in a day."))
        if place is not None and place >= len(rows):
            raise PlanningError(_("That question is no longer there. Choose again."))
        held.day_plan.taken_out = change_of([held], [held])
        prompts = [row.prompt for row in rows]
        if place is None:
            prompts.append(prompt)
        else:
            held.count -= not rows[place].is_own
            prompts[place] = prompt
        lay(held, prompts)


def take_out_own(task: Task, position: int, seen: Seen) -> None:
    """Take a question of the teacher's own off the part. Raises PlanningError.

    Raises TaskPrompt.DoesNotExist where there is none of hers at *position*.
    """
    with changing_part(task, seen) as held:
        rows = list(held.prompts.all())
        if not any(row.position == position and row.is_own for row in rows):
            raise TaskPrompt.DoesNotExist
        if len(rows) == 1:
            raise PlanningError(
                _("This is the only question of the part. Remove the part instead.")
            )
        held.day_plan.taken_out = change_of([held], [held])
        lay(held, [row.prompt for row in rows if row.position != position])

"""What to draw when a day is drafted: the usual parts around a focus, or those of a day before.

And what groups get in place of its main task.
"""

from collections.abc import Iterable
from dataclasses import replace

from portal.people.models import Group
from tasks.models import DayPlan, Task
from tasks.numberwork import DEPTHS, EVERY_KIND
from tasks.numberwork.sequences.sequence import count_of, count_within
from tasks.plans.prompt_selection import Choice, at_depth

Part = Task.Part
CORE = DEPTHS[1]
# Part → kind, range. A Reception class counts well past 20 and meets numbers to 10 in depth
# (common practice, no source). The count and the number are done together: nobody types there.
AROUND_THE_FOCUS = {
    Part.WARM_UP: ("counting-aloud-in-ones", 20),
    Part.NUMBER_OF_THE_DAY: ("number-of-the-day-shown", 10),
    Part.QUICK_RECALL: ("number-bonds", 5),
}
ON_THE_FOCUS = (Part.MAIN_TASK, Part.TRY_AT_HOME)


def usual_day(kind: str, within: int) -> dict[str, Choice]:
    """Return what to draw for each part of a day whose focus is *kind* within *within*."""
    choices = {
        part: Choice(name, reach, count_of(part, name), CORE)
        for part, (name, reach) in AROUND_THE_FOCUS.items()
    }
    for part in ON_THE_FOCUS:
        choices[part] = Choice(kind, within, count_within(part, kind, within), CORE)
    return choices


def same_parts_as(plan: DayPlan) -> dict[str, Choice]:
    """Return what to draw for a day with the same parts as *plan*, for the whole class.

    Of each part as many as a day asks now: a plan of before may have asked more.
    """
    return {
        task.part: of_today(Choice.of(task), task.part)
        for task in plan.tasks.filter(group=None)
        if task.kind in EVERY_KIND
    }


def of_today(choice: Choice, part: str) -> Choice:
    """Return *choice* with as many prompts as a drafted day asks in *part*, and no number chosen.

    A day is about ten minutes.
    """
    return replace(choice, count=count_within(part, choice.kind, choice.within), number=None)


def versions(choice: Choice, groups: Iterable[Group]) -> list[tuple[Group, Choice]]:
    """Return what groups get in place of the main task *choice*: those whose depth is another.

    Groups at core stay with the class, and so do those at whose depth the class works anyhow. They
    get as many prompts, in the ways of asking that their depth has.
    """
    return [
        (group, at_depth(choice, group.depth))
        for group in groups
        if group.depth not in (CORE, choice.depth)
    ]

"""What to draw when a day is drafted: the usual parts around a focus, or those of a day before."""

from tasks.models import DayPlan, Task
from tasks.numberwork import DEPTHS, KINDS, how_many
from tasks.plans.prompt_selection import Choice

Part = Task.Part
CORE = DEPTHS[1]
# Part → kind, range, how many. A Reception class counts well past 20 and meets numbers to 10
# in depth (common practice, no source).
AROUND_THE_FOCUS = {
    Part.WARM_UP: ("counting-on-in-ones", 20, 3),
    Part.NUMBER_OF_THE_DAY: ("number-of-the-day", 10, 4),
    Part.QUICK_RECALL: ("number-bonds", 5, 4),
}
FOCUS_PROMPTS = {Part.MAIN_TASK: 5, Part.TRY_AT_HOME: 2}


def usual_day(kind: str, within: int) -> dict[str, Choice]:
    """Return what to draw for each part of a day whose focus is *kind* within *within*.

    Fewer are drawn of a kind that has too few different prompts for two parts.
    """
    choices = {part: Choice(*around, CORE) for part, around in AROUND_THE_FOCUS.items()}
    there = how_many(kind, within, CORE)
    together = sum(FOCUS_PROMPTS.values())
    for part, wanted in FOCUS_PROMPTS.items():
        share = max(1, min(wanted, there * wanted // together))
        choices[part] = Choice(kind, within, share, CORE)
    return choices


def same_parts_as(plan: DayPlan) -> dict[str, Choice]:
    """Return what to draw for a day with the same parts as *plan*, for the whole class."""
    return {
        task.part: Choice.of(task) for task in plan.tasks.filter(group=None) if task.kind in KINDS
    }

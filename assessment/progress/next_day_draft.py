"""From a gap to tomorrow's work: a drafted day whose main task would give what is missing."""

import datetime as dt

from django.db.models import Q

from assessment.insight.weeks import school_days
from portal.people.models import Group, SchoolClass
from tasks.models import DayPlan, Task
from tasks.numberwork import KINDS
from tasks.numberwork.sequences.sequence import count_of, count_within
from tasks.plans import planning
from tasks.plans.defaults import CORE, usual_day
from tasks.plans.planning import Seen
from tasks.plans.prompt_selection import Choice

REACH = 10  # the numbers most goals of this age speak of
Part = Task.Part


def next_open_day(school_class: SchoolClass, group: Group | None = None) -> DayPlan | None:
    """Return the plan of the next free school day of the class, or for *group*.

    A day is free that is within the school year, is no closure day, and has no main task for the
    class, or for the group. For the class it is not set yet either: nothing is put where families
    may see it. The plan may not be stored yet. None where no such day is left in the year.
    """
    school, year = school_class.school, school_class.year
    first = max(school.today() + dt.timedelta(days=1), year.starts)
    ahead = school_class.day_plans.between(first, year.ends)
    taken = Q(tasks__part=Part.MAIN_TASK, tasks__group=group)
    if group is None:
        taken |= Q(goes_out_at__isnull=False)
    not_free = set(ahead.filter(taken).values_list("date", flat=True))
    closures = list(school.closures.values_list("first", "last"))
    days = school_days(first, year.ends, closures)
    day = next((day for day in days if day not in not_free), None)
    if day is None:
        return None
    found = ahead.filter(date=day).first()
    return found or DayPlan(school_class=school_class, date=day, version=0)


def draft(plan: DayPlan, kinds: list[str], seen: Seen, group: Group | None = None) -> None:
    """Draft *plan* around the first of *kinds*, with quick recall of the second where there is one.

    For a *group* only its own main task is added. What stands on the plan stays as it is.
    Raises PlanningError.
    """
    kind = kinds[0]
    within = reach_of(plan.school_class, kind)
    if group is not None:
        choice = Choice(kind, within, count_within(Part.MAIN_TASK, kind, within), group.depth)
        planning.add_part(plan, Part.MAIN_TASK, choice, seen, group)
        return
    choices = usual_day(kind, within)
    if len(kinds) > 1:
        choices[Part.QUICK_RECALL] = recall_of(plan.school_class, kinds[1])
    planning.draft_day(plan, choices, seen, plan.focus or KINDS[kind].title)


def recall_of(school_class: SchoolClass, kind: str) -> Choice:
    """Return a short quick recall of *kind*."""
    within = reach_of(school_class, kind)
    return Choice(kind, within, count_of(Part.QUICK_RECALL, kind), CORE)


def reach_of(school_class: SchoolClass, kind: str) -> int:
    """Return how far *kind* is to go: as far as the class had it last, else about to ten."""
    plans = Task.objects.filter(day_plan__school_class=school_class, kind=kind, group=None)
    last = plans.order_by("-day_plan__date").values_list("within", flat=True).first()
    ranges = KINDS[kind].ranges
    if last in ranges:
        return last
    return max((each for each in ranges if each <= REACH), default=min(ranges))

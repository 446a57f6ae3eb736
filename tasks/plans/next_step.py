"""One step on from the last planned day, along the written route of its focus."""

import datetime as dt
from dataclasses import dataclass

from portal.people.models import Group, SchoolClass
from tasks.models import DayPlan, Task
from tasks.numberwork import KINDS, ROUTES, Step, plan_sequence
from tasks.numberwork.sequences.sequence import MOST_DAYS, RANGES
from tasks.plans.defaults import versions
from tasks.plans.history import kinds_met
from tasks.plans.prompt_selection import Choice, facts_met, new_seed


@dataclass(frozen=True, slots=True)
class Offer:
    """What comes next after a day.

    step: None at the end of a route. onward: the focuses that then build on it.
    """

    after: DayPlan
    main: Task
    focus: str
    step: Step | None
    onward: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Return the title of the kind that comes next."""
        return KINDS[self.step.kind].title if self.step else ""

    @property
    def depth(self) -> str:
        """Return the depth of the next step, as it is shown."""
        return Group.Depth(self.step.depth).label if self.step else ""

    @property
    def onward_titles(self) -> list[tuple[str, str]]:
        """Return name and title of each focus that builds on it."""
        return [(name, KINDS[name].title) for name in self.onward]

    @property
    def is_new(self) -> bool:
        """Whether the next step is of another kind."""
        return self.step is not None and self.step.kind != self.main.kind


def offer_after(plan: DayPlan) -> Offer | None:
    """Offer what comes after *plan*; None where it has no main task that a route knows."""
    main = plan.tasks.filter(part=Task.Part.MAIN_TASK, group=None).first()
    if main is None or main.kind not in ROUTES:
        return None
    focus = main.kind
    if plan.sequence and _place(plan.sequence.focus, main) >= 0:
        focus = plan.sequence.focus
    step = step_after(focus, main)
    return Offer(plan, main, focus, step, () if step else builds_on(focus))


def step_after(focus: str, main: Task) -> Step | None:
    """Give the step after *main* on the route to *focus*; its first where main is none of them."""
    rest = ROUTES[focus].steps[_place(focus, main) + 1 :]
    return rest[0] if rest else None


def _place(focus: str, main: Task) -> int:
    """Find *main* on a route: its kind at its depth, else the kind's last step; -1 for neither."""
    steps = ROUTES[focus].steps if focus in ROUTES else ()
    of_kind = [place for place, step in enumerate(steps) if step.kind == main.kind]
    exact = [place for place in of_kind if steps[place].depth == main.depth]
    return max(exact or of_kind, default=-1)


def builds_on(focus: str) -> tuple[str, ...]:
    """Return the focuses whose routes ask for *focus* to have come before."""
    return tuple(name for name, route in ROUTES.items() if focus in route.before)


def next_day(
    school_class: SchoolClass, offer: Offer, date: dt.date
) -> tuple[dict[str, Choice], list[tuple[Group, Choice]]]:
    """Return what to draw for a day one step on, and the groups' versions of its main task.

    Raises ValueError at the end of a route.
    """
    if offer.step is None:
        raise ValueError("there is no step after the last")
    facts = facts_met(school_class, date)
    within = offer.main.within if offer.main.within in RANGES else RANGES[1]
    known = {kind: facts.get(kind, ()) for kind in kinds_met(school_class, date)}
    drafts = plan_sequence(offer.focus, MOST_DAYS, within, new_seed(), known or None)
    wanted = (offer.step.kind, offer.step.depth)
    drafted = next(each for each in drafts if (each.main_task.kind, each.main_task.depth) == wanted)
    choices = {
        name: Choice(part.kind, part.within, part.count, part.depth, only=part.only)
        for name, part in drafted.parts.items()
    }
    return choices, versions(choices[Task.Part.MAIN_TASK], school_class.groups.all())

"""What each child needs next: mistakes, goals not yet managed alone, goals to see more of."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from .fading import FADED_AFTER, half_lives, has_faded
from .mistakes import Course
from .rows import Child, Mistake
from .strength import Missing, Strength


class Reason(StrEnum):
    """What a need or a group is about.

    mistake: one that keeps coming. goal: tried and not, or not always, managed alone.
    see more: managed alone, or not tried at all, and the evidence is thin.
    own next steps, going on: of a group only, see groups. How evidence fades: see fading.
    """

    MISTAKE = "mistake"
    GOAL = "goal"
    SEE_MORE = "see more"
    OWN_STEPS = "own next steps"
    GOING_ON = "going on"


@dataclass(frozen=True, slots=True)
class Need:
    """Something to work on next: a mistake by its name and kind, or a goal by its code."""

    reason: Reason
    name: str = ""
    kind: str = ""

    @property
    def mistake(self) -> Mistake:
        """Return the mistake that it is about."""
        return Mistake(self.kind, self.name)


def needs(
    children: Sequence[Child],
    found: Mapping[tuple[Child, str], Strength],
    courses: Mapping[Child, Mapping[Mistake, Course]],
    goals_now: Collection[str],
    today: date,
) -> dict[Child, tuple[Need, ...]]:
    """Put each child's needs in order: mistakes that keep coming, then goals.

    courses: of work that has not faded. goals_now: the goals that the weeks' work is about; no
    other is a need, nor is one with nothing missing, nor a mistake seen once or gone. What is
    hard comes before what is to be seen more of, then the latest evidence, by half-lives, then
    as `_place` says; equal ones keep the order of *found*. What was hard and has faded is only
    to be seen again.
    """
    turns: dict[Child, list[tuple[tuple[bool, int, int], Need]]] = {child: [] for child in children}
    for (child, goal), weighed in found.items():
        if child in turns and goal in goals_now and weighed.is_open:
            reason = _reason(weighed, today)
            age = half_lives(weighed.last_on, today) if weighed.last_on else FADED_AFTER
            turn = (reason != Reason.GOAL, min(age, FADED_AFTER), _place(weighed))
            turns[child].append((turn, Need(reason, goal)))
    return {
        child: (
            *_mistakes(courses.get(child, {})),
            *(need for _, need in sorted(turns[child], key=lambda pair: pair[0])),
        )
        for child in children
    }


def _reason(weighed: Strength, today: date) -> Reason:
    never = weighed.count and not weighed.days
    hard = never or weighed.against or Missing.UNAIDED in weighed.missing
    return Reason.GOAL if hard and not has_faded(weighed.last_on, today) else Reason.SEE_MORE


def _place(weighed: Strength) -> int:
    """Say in which turn a teacher would come to such a goal. Common practice, no source."""
    turns = (weighed.against, weighed.count and not weighed.days, weighed.days == 1, weighed.days)
    return next((place for place, is_so in enumerate(turns) if is_so), len(turns))


def _mistakes(courses: Mapping[Mistake, Course]) -> list[Need]:
    kept = (mistake for mistake, course in courses.items() if course == Course.KEEPS_COMING)
    return [Need(Reason.MISTAKE, mistake.name, mistake.kind) for mistake in kept]

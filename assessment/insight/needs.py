"""What each child needs next: mistakes, goals not yet managed alone, goals to see more of."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from .mistakes import Course
from .rows import Child
from .strength import Missing, Strength, Word


class Reason(StrEnum):
    """What a need or a group is about.

    mistake: one that keeps coming. goal: tried and not, or not always, managed alone.
    see more: managed alone, or not tried at all, and the evidence is thin.
    own next steps, going on: of a group only, see groups.
    """

    MISTAKE = "mistake"
    GOAL = "goal"
    SEE_MORE = "see more"
    OWN_STEPS = "own next steps"
    GOING_ON = "going on"


@dataclass(frozen=True, slots=True)
class Need:
    """Something to work on next: a mistake by its name, or a goal by its code."""

    reason: Reason
    name: str = ""


# The order in which a teacher would turn to a child's goals. Common practice, no source.
TURNS = (
    (Reason.GOAL, Word.MIXED),
    (Reason.GOAL, Word.TRIED),
    (Reason.GOAL, Word.FIRST_SIGN),
    (Reason.GOAL, Word.BUILDING),
    (Reason.SEE_MORE, Word.FIRST_SIGN),
    (Reason.SEE_MORE, Word.BUILDING),
    (Reason.SEE_MORE, Word.NOTHING),
)


def needs(
    children: Sequence[Child],
    found: Mapping[tuple[Child, str], Strength],
    courses: Mapping[Child, Mapping[str, Course]],
) -> dict[Child, tuple[Need, ...]]:
    """Put each child's needs in order: mistakes that keep coming, then goals in TURNS order.

    Equal turns keep the order of *found*. A goal well shown is no need, nor is a mistake
    seen once or gone.
    """
    turns: dict[Child, list[tuple[int, Need]]] = {child: [] for child in children}
    for (child, goal), weighed in found.items():
        if child in turns and weighed.word != Word.WELL_SHOWN:
            reason = _reason(weighed)
            turn = TURNS.index((reason, weighed.word))
            turns[child].append((turn, Need(reason, goal)))
    return {
        child: (
            *_mistakes(courses.get(child, {})),
            *(need for _, need in sorted(turns[child], key=lambda pair: pair[0])),
        )
        for child in children
    }


def _reason(weighed: Strength) -> Reason:
    hard = weighed.word in (Word.MIXED, Word.TRIED) or Missing.UNAIDED in weighed.missing
    return Reason.GOAL if hard else Reason.SEE_MORE


def _mistakes(courses: Mapping[str, Course]) -> list[Need]:
    kept = (mistake for mistake, course in courses.items() if course == Course.KEEPS_COMING)
    return [Need(Reason.MISTAKE, mistake) for mistake in kept]

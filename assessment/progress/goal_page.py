"""One goal across a class, in the order of the register: how it was shown, and what is missing."""

from dataclasses import dataclass

from assessment.insight.strength import Strength
from assessment.models import Goal
from assessment.progress.evidence_strength import by_code, weighed
from assessment.progress.wording import found_words, missing_words
from portal.people.models import Child, SchoolClass, User


@dataclass(frozen=True)
class OnGoal:
    """One child on the goal."""

    child: Child
    weight: Strength

    @property
    def facts(self) -> str:
        """Say how often it was shown in each way, and when the last time."""
        return found_words(self.weight)

    @property
    def missing(self) -> str:
        """Say what was not seen yet."""
        return missing_words(self.weight.missing)


def goal_over_class(school_class: SchoolClass, goal: Goal, user: User) -> list[OnGoal]:
    """Gather the children of *school_class* on *goal*."""
    children = list(Child.objects.taught_by(user).filter(school_class=school_class))
    found = by_code(weighed(children, school_class.school.today()), children, [goal])
    return [OnGoal(child, found[child.pk, goal.code]) for child in children]

"""One goal across a class: who has shown it, who not yet, and what each one's evidence lacks."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from assessment.charts import Bar, rows
from assessment.insight.strength import Strength, Word
from assessment.models import Goal
from assessment.progress.evidence_strength import by_code, weighed
from assessment.progress.wording import HOW, MEANINGS, WORDS, missing_words
from assessment.spreadsheets import Table
from portal.people.models import Child, SchoolClass, User

# Who can be judged by most first; children within a word stand in the order of the roster.
ORDER = (Word.WELL_SHOWN, Word.MIXED, Word.BUILDING, Word.FIRST_SIGN, Word.TRIED, Word.NOTHING)


@dataclass(frozen=True)
class OnGoal:
    """One child on the goal."""

    child: Child
    weight: Strength

    @property
    def missing(self) -> str:
        """Say what is missing."""
        return missing_words(self.weight.missing)

    @property
    def last_how(self) -> Any:
        """Say how it was shown the last time."""
        return HOW.get(self.weight.last_how, "")


@dataclass(frozen=True)
class UnderWord:
    """The children whose evidence one word describes, and what the word means."""

    word: Any
    meaning: Any
    children: list[OnGoal]


def goal_over_class(school_class: SchoolClass, goal: Goal, user: User) -> list[UnderWord]:
    """Gather the children of *school_class* on *goal* under the words for their evidence."""
    children = list(Child.objects.taught_by(user).filter(school_class=school_class))
    found = by_code(weighed(children, school_class.school.today()), children, [goal])
    each = [OnGoal(child, found[child.pk, goal.code]) for child in children]
    return [
        UnderWord(WORDS[word], MEANINGS[word], [one for one in each if one.weight.word == word])
        for word in ORDER
    ]


def chart_of(goal: Goal, groups: Sequence[UnderWord]) -> str:
    """Draw how many children each word describes."""
    return rows(goal.label, [Bar(str(group.word), len(group.children)) for group in groups])


def goal_table(name: str, headings: Sequence[Any], groups: Sequence[UnderWord]) -> Table:
    """Give the same as a table: child, word, pieces, how shown the last time, when, what lacks."""
    return Table(
        name,
        headings,
        [
            (
                one.child,
                group.word,
                one.weight.count,
                one.last_how,
                one.weight.last_on or "",
                one.missing,
            )
            for group in groups
            for one in group.children
        ],
    )

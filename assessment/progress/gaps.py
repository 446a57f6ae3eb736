"""Where the evidence of a class is thin, and which work at home would give what is missing."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from assessment.goals.goal_sets import framework_of
from assessment.insight.fading import LOOKED_BACK, has_faded
from assessment.insight.gaps import Gap, GoalGap, gaps, goal_gaps
from assessment.insight.mistakes import Course, courses
from assessment.insight.needs import Need, needs
from assessment.insight.rows import Mistake
from assessment.insight.strength import Strength
from assessment.models import Framework, Goal
from assessment.progress.evidence_strength import by_code, weighed
from assessment.progress.mistakes import work_of, worked
from assessment.progress.wording import found_words, gap_counts, kind_titles, missing_words
from assessment.progress.work_set.asked import asked_of_class, goals_of_kinds, kinds_of_weeks
from assessment.spreadsheets import Table
from portal.people.models import Child, SchoolClass, User
from tasks.numberwork import KINDS

KINDS_AT_MOST = 3


@dataclass(frozen=True)
class ClassEvidence:
    """What is known of a class: the evidence of each child's goals, and how mistakes go.

    today: as of when. answered: the children with answers that have not faded. goals_now: the
    codes of those goals that the weeks' work is about.
    """

    framework: Framework
    today: dt.date
    goals: list[Goal]
    children: list[Child]
    found: Mapping[tuple[int | str, str], Strength]
    courses: Mapping[int | str, Mapping[Mistake, Course]]
    answered: set[int | str]
    goals_now: set[str]

    @property
    def kinds(self) -> dict[str, list[str]]:
        """Return by each goal's code the kinds that can be set and give evidence of it."""
        return {goal.code: [kind for kind in goal.kinds if kind in KINDS] for goal in self.goals}

    @property
    def labels(self) -> dict[str, str]:
        """Return each goal's statement by its code."""
        return {goal.code: goal.label for goal in self.goals}

    @property
    def known_lately(self) -> set[int | str]:
        """Return the children of whom anything is known that has not faded: answers, or tags."""
        tagged = {
            child
            for (child, _code), weighed in self.found.items()
            if not has_faded(weighed.last_on, self.today)
        }
        return tagged | self.answered

    def needs(self) -> dict[int | str, tuple[Need, ...]]:
        """Return what each child of whom anything is known lately needs next, in order."""
        known = self.known_lately
        children = [child.pk for child in self.children if child.pk in known]
        return needs(children, self.found, self.courses, self.goals_now, self.today)


def evidence_of_class(school_class: SchoolClass, user: User) -> ClassEvidence:
    """Gather what is known of *school_class* in a fixed number of queries."""
    framework = framework_of(school_class)
    goals = list(framework.goals.in_use())
    children = list(Child.objects.taught_by(user).filter(school_class=school_class))
    today = school_class.school.today()
    tomorrow = dt.datetime.combine(
        today + dt.timedelta(days=1), dt.time(), school_class.school.zone
    )
    pieces = work_of([child.pk for child in children], tomorrow - LOOKED_BACK, tomorrow)
    rows = worked(pieces)
    return ClassEvidence(
        framework=framework,
        today=today,
        goals=goals,
        children=children,
        found=by_code(weighed(children, today), children, goals),
        courses=courses(rows, today),
        answered={row.child for row in rows},
        goals_now=goals_of_kinds(goals, kinds_of_weeks(school_class, today)),
    )


@dataclass(frozen=True)
class GapOfGoal:
    """A goal on which some evidence is missing: for whom, and what would give it to most.

    is_now: whether the weeks' work is about it. counts: how many of the class have shown it, and
    how many were never asked, in a sentence.
    """

    goal: Goal
    is_now: bool
    counts: str
    never_asked: list[Child]
    children: list[Child]
    kinds: list[tuple[str, str, int]]


@dataclass(frozen=True)
class GapsOfChild:
    """One child's goals with something missing, each with what it is and what would help."""

    child: Child
    gaps: list[tuple[str, str, str, list[tuple[str, str]]]]


def by_goal(known: ClassEvidence, school_class: SchoolClass) -> list[GapOfGoal]:
    """Gather the gaps under each goal that work at home can show, in the framework's order.

    Those that the weeks' work is about come first.
    """
    asked = asked_of_class(school_class, known.children, known.goals)
    by_key = {child.pk: child for child in known.children}
    goals = {goal.code: goal for goal in known.goals}
    shown = {code: kinds for code, kinds in known.kinds.items() if kinds}
    found = [
        _gap_of_goal(goals[gap.goal], gap, by_key, gap.goal in known.goals_now)
        for gap in goal_gaps(known.found, shown, asked)
        if gap.open_for
    ]
    return sorted(found, key=lambda gap: not gap.is_now)


def _gap_of_goal(
    goal: Goal, gap: GoalGap, children: Mapping[int | str, Child], is_now: bool
) -> GapOfGoal:
    titles = dict(kind_titles(kind for kind, _count in gap.kinds))
    return GapOfGoal(
        goal=goal,
        is_now=is_now,
        counts=gap_counts(gap),
        never_asked=[children[key] for key in gap.never_asked],
        children=[children[key] for key in gap.open_for],
        kinds=[(kind, titles[kind], count) for kind, count in gap.kinds[:KINDS_AT_MOST]],
    )


def by_child(known: ClassEvidence) -> list[GapsOfChild]:
    """Gather the gaps under each child, in the order of the roster; who has none is left out."""
    found: dict[int | str, list[Gap]] = {}
    for gap in gaps(known.found, known.kinds):
        found.setdefault(gap.child, []).append(gap)
    labels = known.labels
    return [
        GapsOfChild(child, [_said(gap, labels[gap.goal]) for gap in found[child.pk]])
        for child in known.children
        if child.pk in found
    ]


def _said(gap: Gap, label: str) -> tuple[str, str, str, list[tuple[str, str]]]:
    missing = missing_words(gap.found.missing)
    return label, found_words(gap.found), missing, kind_titles(gap.kinds)


def gaps_table(name: str, headings: Sequence[object], children: Sequence[GapsOfChild]) -> Table:
    """Return the gaps of each child as a table, one line a gap."""
    return Table(
        name,
        headings,
        [
            (each.child, label, facts, missing, ", ".join(title for _kind, title in kinds))
            for each in children
            for label, facts, missing, kinds in each.gaps
        ],
    )

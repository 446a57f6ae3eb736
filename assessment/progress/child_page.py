"""One child: how strong the evidence of each goal is, what it lacks, mistakes, what to try next."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assessment.insight.gaps import suggest_kinds
from assessment.insight.mistakes import Course, courses
from assessment.insight.needs import Need, Reason, needs
from assessment.insight.rows import Worked
from assessment.insight.strength import Strength, Word
from assessment.models import Framework, Goal, Tag
from assessment.progress.child_work import goals_of
from assessment.progress.evidence_strength import by_code, weighed
from assessment.progress.mistakes import sentence_of, work_of, worked
from assessment.progress.wording import COURSES, WORDS, kind_titles, missing_words, need_words
from portal.people.models import Child

NEXT_AT_MOST = 3
DATES_AT_MOST = 3


@dataclass(frozen=True)
class GoalOfChild:
    """One goal: the strength of its evidence, the latest three tags, and an earlier set of goals.

    before: the set it is from, where the class is tagged against another by now.
    """

    goal: Goal
    weight: Strength
    latest: Sequence[Tag]
    before: Framework | None = None

    @property
    def word(self) -> Any:
        """Return the word for its evidence."""
        return WORDS[self.weight.word]

    @property
    def missing(self) -> str:
        """Say what is missing."""
        return missing_words(self.weight.missing)


@dataclass(frozen=True)
class MistakeOfChild:
    """A mistake found at least once: how it goes, and the latest days it was found."""

    sentence: str
    course: Any
    found_on: list[dt.date]


@dataclass(frozen=True)
class TryNext:
    """Something to turn to next: why, and kinds of work for it with their titles."""

    why: str
    kinds: list[tuple[str, str]]


@dataclass(frozen=True)
class ChildStory:
    """All that stands on a child's page besides the work itself."""

    goals: list[GoalOfChild]
    mistakes: list[MistakeOfChild]
    following: list[TryNext]


def story_of(child: Child) -> ChildStory:
    """Gather the story of *child*, of the year of its class, in a fixed number of queries."""
    today = child.school_class.school.today()
    seen = goals_of(child)
    found = weighed([child], today)
    done = worked(work_of([child.pk], *year_until(child, today)))
    going = courses(done, today).get(child.pk, {})
    goals = [one.goal for one in seen if one.goal.retired_at is None and one.before is None]
    weights = by_code(found, [child], goals)
    wanted = needs([child.pk], weights, {child.pk: going})[child.pk]
    nothing = Strength(Word.NOTHING)
    return ChildStory(
        goals=[
            GoalOfChild(
                one.goal, found.get((child.pk, one.goal.pk), nothing), one.latest, one.before
            )
            for one in seen
        ],
        mistakes=[mistake_of(name, course, done) for name, course in going.items()],
        following=try_next(wanted, {goal.code: goal for goal in goals}, weights, done),
    )


def year_until(child: Child, today: dt.date) -> tuple[dt.datetime, dt.datetime]:
    """Return the moments at which the year of the class of *child* begins and *today* ends."""
    year, zone = child.school_class.year, child.school_class.school.zone
    tomorrow = today + dt.timedelta(days=1)
    begins, ends = (dt.datetime.combine(day, dt.time(), zone) for day in (year.starts, tomorrow))
    return begins, ends


def mistake_of(name: str, course: Course, done: Iterable[Worked]) -> MistakeOfChild:
    """Tell how the mistake *name* goes, the latest days first."""
    found = {row.on: row.kind for row in done if name in row.found}
    days = sorted(found, reverse=True)
    return MistakeOfChild(sentence_of(name, found[days[0]]), COURSES[course], days[:DATES_AT_MOST])


def try_next(
    wanted: Sequence[Need],
    goals: Mapping[str, Goal],
    weights: Mapping[Any, Strength],
    done: Sequence[Worked],
) -> list[TryNext]:
    """Say for the first few of what is *wanted* why, and which kinds of work would help.

    A mistake is worked on in the kind it was found in last.
    """
    labels = {code: goal.label for code, goal in goals.items()}
    by_goal = {code: weight for (_child, code), weight in weights.items()}
    kept_in = {name: row.kind for row in done for name in row.found}
    return [
        TryNext(
            need_words(need, labels),
            kind_titles(
                [kept_in[need.name]]
                if need.reason == Reason.MISTAKE
                else suggest_kinds(by_goal[need.name], goals[need.name].kinds)
            ),
        )
        for need in wanted[:NEXT_AT_MOST]
    ]

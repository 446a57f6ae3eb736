"""One child: how each goal was shown, what was not seen yet, mistakes, what to try next."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assessment.insight.counting_out import counts_out
from assessment.insight.fading import has_faded
from assessment.insight.gaps import suggest_kinds
from assessment.insight.mistakes import Course, courses
from assessment.insight.needs import Need, Reason, needs
from assessment.insight.rows import Mistake, Worked
from assessment.insight.strength import Strength
from assessment.models import Goal
from assessment.progress.child_work import goals_of, trials_of
from assessment.progress.evidence_strength import by_code, weighed
from assessment.progress.mistakes import sentence_of, work_of, worked
from assessment.progress.pictures.child_year import year_picture
from assessment.progress.pictures.grid import Picture
from assessment.progress.wording import (
    COURSES,
    counting_out_words,
    kind_titles,
    need_words,
)
from assessment.progress.work_set.asked import goals_of_kinds, kinds_of_weeks
from portal.people.models import Child

NEXT_AT_MOST = 3
DATES_AT_MOST = 3


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
    """All that stands on a child's page besides the work itself.

    goals: over the months of the year. counting_out: up to which number, in words; "" where
    that was never asked.
    """

    goals: Picture
    mistakes: list[MistakeOfChild]
    counting_out: str
    following: list[TryNext]


def story_of(child: Child) -> ChildStory:
    """Gather the story of *child*, of the year of its class, in a fixed number of queries."""
    today = child.school_class.school.today()
    seen = goals_of(child)
    found = weighed([child], today)
    done = worked(work_of([child.pk], *year_until(child, today)))
    going = courses(done, today).get(child.pk, {})
    lately = courses((row for row in done if not has_faded(row.on, today)), today)
    goals = [one.goal for one in seen if one.goal.retired_at is None and one.before is None]
    weights = by_code(found, [child], goals)
    goals_now = goals_of_kinds(goals, kinds_of_weeks(child.school_class, today))
    wanted = needs([child.pk], weights, lately, goals_now, today)[child.pk]
    trials = trials_of(child)
    return ChildStory(
        goals=year_picture(child, seen, today),
        mistakes=[mistake_of(mistake, course, done) for mistake, course in going.items()],
        counting_out=counting_out_words(counts_out(trials)) if trials else "",
        following=try_next(wanted, {goal.code: goal for goal in goals}, weights),
    )


def year_until(child: Child, today: dt.date) -> tuple[dt.datetime, dt.datetime]:
    """Return the moments at which the year of the class of *child* begins and *today* ends."""
    year, zone = child.school_class.year, child.school_class.school.zone
    tomorrow = today + dt.timedelta(days=1)
    begins, ends = (dt.datetime.combine(day, dt.time(), zone) for day in (year.starts, tomorrow))
    return begins, ends


def mistake_of(mistake: Mistake, course: Course, done: Iterable[Worked]) -> MistakeOfChild:
    """Tell how a mistake goes, the latest days first."""
    found = {row.on for row in done if row.kind == mistake.kind and mistake.name in row.found}
    days = sorted(found, reverse=True)
    return MistakeOfChild(sentence_of(mistake), COURSES[course], days[:DATES_AT_MOST])


def try_next(
    wanted: Sequence[Need],
    goals: Mapping[str, Goal],
    weights: Mapping[Any, Strength],
) -> list[TryNext]:
    """Say for the first few of what is *wanted* why, and which kinds of work would help.

    A mistake is worked on in the kind it was found in.
    """
    labels = {code: goal.label for code, goal in goals.items()}
    by_goal = {code: weight for (_child, code), weight in weights.items()}
    return [
        TryNext(
            need_words(need, labels),
            kind_titles(
                [need.kind]
                if need.reason == Reason.MISTAKE
                else suggest_kinds(by_goal[need.name], goals[need.name].kinds)
            ),
        )
        for need in wanted[:NEXT_AT_MOST]
    ]

"""What a teacher has beside one submission: marked answers, goals, and what was shown before."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import F, Window
from django.db.models.functions import RowNumber

from assessment.frameworks import goals_for_kinds
from assessment.frameworks.showing.work import Work
from assessment.goals.goal_sets import framework_of
from assessment.looks.forms.looking import tag_field
from assessment.looks.marking import MarkedTask, done_in, kinds_by_weight, marked_tasks
from assessment.looks.suggestions import SuggestedTag, suggested_tag, works_of
from assessment.models import Framework, Goal, Look, Tag
from evidence.models import Submission
from portal.people.models import Child

LATEST = 3
SUGGESTED_AT_MOST = 4  # More than a teacher reads at a glance helps nobody.


@dataclass(frozen=True)
class GoalBeside:
    """A goal that may be tagged: what is suggested for it, and the child's latest tags on it."""

    goal: Goal
    suggestion: SuggestedTag | None
    latest: list[Tag]

    @property
    def is_claimed(self) -> bool:
        """Whether the answers claim that it was shown: then it is read first."""
        return self.suggestion is not None and bool(self.suggestion.how)

    @property
    def field(self) -> str:
        """Return the name of the field that tags this goal."""
        return tag_field(self.goal.pk)


@dataclass(frozen=True)
class Reading:
    """One submission as it lies in front of a teacher. `other` goals stand behind a fold.

    `kinds` names the work in it, the weightiest first.
    """

    submission: Submission
    look: Look | None
    framework: Framework
    tasks: list[MarkedTask]
    kinds: list[str]
    suggested: list[GoalBeside]
    other: list[GoalBeside]

    @property
    def goals(self) -> list[Goal]:
        """Return every goal that may be tagged, the suggested ones first."""
        return [row.goal for row in (*self.suggested, *self.other)]

    @property
    def answer_count(self) -> int:
        """Return for how many prompts something was typed."""
        return sum(len(task.answered) for task in self.tasks)

    @property
    def done(self) -> str:
        """Say what the child found, for a reply; "" where no right answer tells it."""
        return done_in(self.tasks)

    @property
    def prompt_count(self) -> int:
        """Return how many prompts were set."""
        return sum(len(task.prompts) for task in self.tasks)


def read(submission: Submission) -> Reading:
    """Gather what belongs beside *submission*, in a fixed number of queries."""
    tasks = marked_tasks(submission)
    framework = framework_of(submission.child.school_class)
    look = Look.objects.select_related("looked_by").filter(submission=submission).first()
    tagged = [tag.goal for tag in submission.tags.select_related("goal__framework")]
    in_use = list(framework.goals.in_use())
    kinds = kinds_by_weight(tasks)
    first = list(goals_for_kinds(in_use, kinds)[:SUGGESTED_AT_MOST])
    first += [goal for goal in tagged if goal not in first]
    latest = latest_tags(submission.child, first, before=submission)
    works = works_of(tasks)
    return Reading(
        submission=submission,
        look=look,
        framework=framework,
        tasks=tasks,
        kinds=kinds,
        suggested=sorted(
            (GoalBeside(goal, suggest_tag(goal, works), latest[goal.pk]) for goal in first),
            key=lambda row: not row.is_claimed,
        ),
        other=[GoalBeside(goal, None, []) for goal in in_use if goal not in first],
    )


def suggest_tag(goal: Goal, works: list[Work]) -> SuggestedTag | None:
    """Suggest how *works* show *goal*."""
    return suggested_tag(goal.asked, goal.kinds, works)


def latest_tags(child: Child, goals: Iterable[Goal], before: Submission) -> dict[int, list[Tag]]:
    """Return the latest three tags of *child* on each of *goals*, by the goal's key, newest first.

    Those on *before* itself are left out.
    """
    place = Window(
        RowNumber(),
        partition_by=[F("goal")],
        order_by=[F("shown_at").desc(), F("pk").desc()],
    )
    tags = (
        Tag.objects.filter(child=child, goal__in=list(goals))
        .exclude(submission=before)
        .annotate(place=place)
        .filter(place__lte=LATEST)
        .select_related("submission__day_plan")
        .order_by("goal", "place")
    )
    found: dict[int, list[Tag]] = defaultdict(list)
    for tag in tags:
        found[tag.goal_id].append(tag)
    return found

"""Seeing what was shown: a child's work by date, tags by goal, a class by its goals."""

from dataclasses import dataclass, field

from django.db.models import Count, F, Prefetch, Window
from django.db.models.functions import RowNumber

from assessment.goals import framework_of
from assessment.models import Framework, Goal, Look, Tag, TagQuerySet
from assessment.queue import with_answer_count
from evidence.models import Submission, SubmissionQuerySet
from portal.people.models import Child, SchoolClass, User

NEWEST_FIRST = (F("submission__sent_at").desc(), F("pk").desc())
LATEST = 5


def work_of(child: Child, user: User) -> SubmissionQuerySet:
    """Give the standing submissions of *child*, newest first, with all that a list shows."""
    own = Submission.objects.taught_by(user).standing().filter(child=child)
    looks = Look.objects.select_related("looked_by")
    tags = Tag.objects.select_related("goal").order_by("goal__position")
    return (
        with_answer_count(own)
        .prefetch_related("day_plan__tasks", Prefetch("look", queryset=looks))
        .prefetch_related(Prefetch("tags", queryset=tags))
    )


@dataclass(frozen=True)
class GoalSeen:
    """A goal and how one child has shown it: how many tags, and the latest five."""

    goal: Goal
    count: int
    latest: list[Tag] = field(default_factory=list)


def goals_of(child: Child) -> list[GoalSeen]:
    """Give the goals of the class of *child*, and any other that was tagged, with latest tags."""
    tags = Tag.objects.standing().filter(submission__child=child)
    ranked = (
        tags.annotate(
            place=Window(RowNumber(), partition_by=[F("goal")], order_by=NEWEST_FIRST),
            total=Window(Count("pk"), partition_by=[F("goal")]),
        )
        .filter(place__lte=LATEST)
        .select_related("goal", "submission__day_plan", "tagged_by")
        .order_by("place")
    )
    by_goal: dict[int, list[Tag]] = {}
    for tag in ranked:
        by_goal.setdefault(tag.goal_id, []).append(tag)
    listed = list(framework_of(child.school_class).goals.in_use())
    known = {goal.pk for goal in listed}
    for rows in by_goal.values():
        if rows[0].goal_id not in known:
            listed.append(rows[0].goal)
    return [
        GoalSeen(
            goal, by_goal[goal.pk][0].total if goal.pk in by_goal else 0, by_goal.get(goal.pk, [])
        )
        for goal in listed
    ]


def evidence_of(child: Child, goal: Goal, user: User) -> TagQuerySet:
    """Give every tag of *child* on *goal*, newest first, with its piece of work."""
    tags = Tag.objects.visible_to(user).standing().filter(submission__child=child, goal=goal)
    work = with_answer_count(Submission.objects.all())
    return (
        tags.order_by(*NEWEST_FIRST)
        .select_related("tagged_by")
        .prefetch_related(Prefetch("submission", queryset=work))
    )


@dataclass(frozen=True)
class Cell:
    """What one child showed of one goal: how many pieces were tagged, and how at the latest."""

    goal: Goal
    count: int = 0
    how: str = ""

    def __str__(self) -> str:
        return f"{self.count} · {Tag.How(self.how).label}" if self.count else ""


@dataclass(frozen=True)
class Grid:
    """A class by its goals."""

    framework: Framework
    goals: list[Goal]
    rows: list[tuple[Child, list[Cell]]]


def class_grid(school_class: SchoolClass, user: User) -> Grid:
    """Gather *school_class* by its goals in a fixed number of queries."""
    framework = framework_of(school_class)
    goals = list(framework.goals.in_use())
    children = list(Child.objects.taught_by(user).filter(school_class=school_class))
    pair = [F("submission__child"), F("goal")]
    latest = (
        Tag.objects.standing()
        .filter(submission__child__school_class=school_class, goal__in=goals)
        .annotate(
            place=Window(RowNumber(), partition_by=pair, order_by=NEWEST_FIRST),
            total=Window(Count("pk"), partition_by=pair),
        )
        .filter(place=1)
        .values_list("submission__child", "goal", "total", "how")
    )
    seen = {(child, goal): (total, how) for child, goal, total, how in latest}
    rows = [
        (child, [Cell(goal, *seen.get((child.pk, goal.pk), ())) for goal in goals])
        for child in children
    ]
    return Grid(framework, goals, rows)

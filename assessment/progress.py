"""Seeing what was shown: a child's work by date, tags by goal, a class by its goals."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from django.db import connection
from django.db.models import Count, F, Prefetch, Window
from django.db.models.functions import RowNumber
from django.urls import reverse

from assessment.goals import framework_of
from assessment.models import Framework, Goal, Look, Tag, TagQuerySet
from assessment.queue import with_answer_count
from evidence.models import Submission, SubmissionQuerySet
from portal.people.models import Child, SchoolClass, User

NEWEST_FIRST = (F("shown_at").desc(), F("pk").desc())
LATEST = 3


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
    """A goal and how one child has shown it: how many tags, and the latest three."""

    goal: Goal
    count: int
    latest: list[Tag] = field(default_factory=list)


def goals_of(child: Child) -> list[GoalSeen]:
    """Give the goals of the class of *child*, and any other that was tagged, with latest tags."""
    totals = dict(
        Tag.objects.filter(child=child).values_list("goal").annotate(Count("pk")).order_by()
    )
    by_goal: dict[int, list[Tag]] = {}
    for tag in latest_tags_of(child):
        by_goal.setdefault(tag.goal_id, []).append(tag)
    listed = list(framework_of(child.school_class).goals.in_use())
    known = {goal.pk for goal in listed}
    listed += [tags[0].goal for goal, tags in by_goal.items() if goal not in known]
    return [GoalSeen(goal, totals.get(goal.pk, 0), by_goal.get(goal.pk, [])) for goal in listed]


def latest_tags_of(child: Child) -> TagQuerySet:
    """Give the latest three tags of *child* on each goal, newest first."""
    place = Window(RowNumber(), partition_by=[F("goal")], order_by=NEWEST_FIRST)
    ranked = Tag.objects.filter(child=child).annotate(place=place).filter(place__lte=LATEST)
    # The keys first: ranking all tags with their work and goals beside them takes far longer.
    latest = Tag.objects.filter(pk__in=list(ranked.values_list("pk", flat=True)))
    shown = ("how", "by_assistant", "goal", "submission__token", "submission__day_plan__date")
    related = latest.select_related("goal", "submission__day_plan")
    return related.only(*shown).order_by(*NEWEST_FIRST)


def evidence_of(child: Child, goal: Goal, user: User) -> TagQuerySet:
    """Give every tag of *child* on *goal*, newest first, with its piece of work."""
    tags = Tag.objects.visible_to(user).filter(child=child, goal=goal)
    work = with_answer_count(Submission.objects.all())
    return (
        tags.order_by(*NEWEST_FIRST)
        .select_related("tagged_by")
        .prefetch_related(Prefetch("submission", queryset=work))
    )


@dataclass(frozen=True)
class Cell:
    """What one child showed of one goal: how many pieces were tagged, and how at the latest.

    `words` says both, and is empty where nothing was tagged; `url` leads to the pieces.
    """

    goal: Goal
    words: str = ""
    url: str = ""

    def __str__(self) -> str:
        return self.words


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
    seen = latest_by_goal(school_class, framework)
    labels = {how.value: str(how.label) for how in Tag.How}
    rows = [(child, list(cells_of(child, goals, seen, labels))) for child in children]
    return Grid(framework, goals, rows)


def cells_of(
    child: Child,
    goals: list[Goal],
    seen: dict[tuple[int, int], tuple[int, str]],
    labels: dict[str, str],
) -> Iterator[Cell]:
    """Yield the row of one child; *labels*: each how in the reader's words."""
    page = reverse("assessment:child", args=[child.pk])
    for goal in goals:
        if (child.pk, goal.pk) not in seen:
            yield Cell(goal)
            continue
        count, how = seen[child.pk, goal.pk]
        # Put together by hand: to reverse it for each of a thousand cells takes half the page.
        yield Cell(goal, f"{count} · {labels[how]}", f"{page}goals/{goal.pk}/")


# Each cell is looked up by itself: counted within one stretch of the index, its latest at the
# end of that stretch. Windows or groups over a year's tags take many times as long.
LATEST_BY_GOAL = """
    SELECT child.id, goal.id,
        (SELECT COUNT(*) FROM assessment_tag tag
         WHERE tag.child_id = child.id AND tag.goal_id = goal.id),
        (SELECT tag.how FROM assessment_tag tag
         WHERE tag.child_id = child.id AND tag.goal_id = goal.id
         ORDER BY tag.shown_at DESC, tag.id DESC LIMIT 1)
    FROM people_child child CROSS JOIN assessment_goal goal
    WHERE child.school_class_id = %s AND goal.framework_id = %s AND goal.retired_at IS NULL
"""


def latest_by_goal(
    school_class: SchoolClass, framework: Framework
) -> dict[tuple[int, int], tuple[int, str]]:
    """Give the count of tags and the latest how, by the keys of child and goal, where any are."""
    with connection.cursor() as cursor:
        cursor.execute(LATEST_BY_GOAL, [school_class.pk, framework.pk])
        found = cursor.fetchall()
    return {(child, goal): (count, how) for child, goal, count, how in found if count}

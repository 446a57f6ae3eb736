"""Seeing what was shown: a child's work by date, and the tags by goal."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import F, Prefetch

from assessment.day_parts import title_of
from assessment.goals.goal_sets import framework_of
from assessment.insight.counting_out import Trial
from assessment.insight.strength import Seen
from assessment.looks.queue import with_answer_count
from assessment.models import Framework, Goal, Look, Tag, TagQuerySet
from assessment.progress.work_set.kinds_shown import KindsShown
from evidence.models import Answer, Submission, SubmissionQuerySet
from portal.people.models import Child, User
from tasks.numberwork import read_in_any

NEWEST_FIRST = (F("shown_at").desc(), F("pk").desc())
COUNT_OUT, COUNTED_OUT = "count-out", "count out"  # the kind, and its form


def work_of(child: Child, user: User) -> SubmissionQuerySet:
    """Return the standing submissions of *child*, newest first, with all that a list shows."""
    own = Submission.objects.taught_by(user).active().filter(child=child)
    looks = Look.objects.select_related("looked_by")
    tags = Tag.objects.select_related("goal").order_by("goal__position")
    return (
        with_answer_count(own)
        .prefetch_related("day_plan__tasks", Prefetch("look", queryset=looks))
        .prefetch_related(Prefetch("tags", queryset=tags))
    )


def trials_of(child: Child) -> list[Trial]:
    """Return each time *child* counted out a number of things and said how many there were."""
    rows = Answer.objects.filter(
        submission__child=child,
        submission__withdrawn_at=None,
        prompt__task__kind=COUNT_OUT,
    )
    read = [
        (row.prompt.prompt, read_in_any(row.prompt.prompt, row.text))
        for row in rows.select_related("prompt").order_by("pk")
    ]
    return [
        Trial(prompt.answer, answer)
        for prompt, answer in read
        if prompt.form == COUNTED_OUT and isinstance(answer, int) and type(prompt.answer) is int
    ]


@dataclass(frozen=True)
class GoalSeen:
    """A goal and each time that one child's work was tagged with it, the oldest first.

    before: the set that the goal is from, where the class is tagged against another by now.
    """

    goal: Goal
    times: list[Seen]
    before: Framework | None = None


def goals_of(child: Child) -> list[GoalSeen]:
    """Give the goals of the class of *child*, and any other that was tagged, with each time."""
    by_goal: dict[int, list[Seen]] = {}
    tags = Tag.objects.filter(child=child).order_by("shown_at", "pk")
    for goal, *seen in tags.values_list("goal", "submission__day_plan__date", "how"):
        by_goal.setdefault(goal, []).append(Seen(*seen))
    framework = framework_of(child.school_class)
    listed = list(framework.goals.in_use())
    others = by_goal.keys() - {goal.pk for goal in listed}
    known = Goal.objects.filter(pk__in=others).select_related("framework").order_by("pk")
    found = [GoalSeen(goal, by_goal.get(goal.pk, [])) for goal in listed]
    for goal in known:
        before = goal.framework if goal.framework_id != framework.pk else None
        found.append(GoalSeen(goal, by_goal[goal.pk], before))
    return found


def evidence_of(child: Child, goal: Goal, user: User, month: dt.date | None) -> TagQuerySet:
    """Return every tag of *child* on *goal*, of *month* alone if given, newest first."""
    tags = Tag.objects.visible_to(user).filter(child=child, goal=goal)
    if month:
        of = {"year": month.year, "month": month.month}
        tags = tags.filter(**{f"submission__day_plan__date__{part}": at for part, at in of.items()})
    work = with_answer_count(Submission.objects.all())
    return (
        tags.order_by(*NEWEST_FIRST)
        .select_related("tagged_by")
        .prefetch_related(Prefetch("submission", queryset=work))
    )


def with_kinds(tags: Iterable[Tag], child: Child, goal: Goal) -> list[tuple[Tag, str]]:
    """Pair each of *tags*, of *child* on *goal*, with the title of the work it was shown in."""
    found = list(tags)
    plans = {tag.submission.day_plan_id for tag in found}
    shown_in = KindsShown(plans, [child])
    kinds = [shown_in.kind(child.pk, tag.submission.day_plan_id, goal.kinds) for tag in found]
    return [(tag, title_of(kind) if kind else "") for tag, kind in zip(found, kinds, strict=True)]

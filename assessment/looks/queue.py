"""The list of what came in, as the looking page's way in, and of what could not be done."""

import datetime as dt
from collections import Counter
from typing import Any

from django.db.models import Count, Exists, OuterRef, Prefetch, QuerySet, Subquery
from django.db.models.functions import Coalesce
from django.utils import timezone

from assessment.looks.forms.queue import Offered, QueueForm
from evidence.models import Answer, Nonsubmission, Submission, SubmissionQuerySet
from portal.people.models import Child, Group, SchoolClass, User
from tasks.models import Task

ORDERS = {
    QueueForm.LONGEST: ("sent_at", "pk"),
    QueueForm.NEWEST: ("-sent_at", "-pk"),
    QueueForm.BY_CHILD: ("child__first_name", "child__initial", "child", "sent_at", "pk"),
}
SHOWN_FOR = dt.timedelta(days=7)  # that a home said it could not be done
AT_MOST = 60


def queue(classes: QuerySet[SchoolClass], user: User, wanted: dict[str, Any]) -> SubmissionQuerySet:
    """Return the submissions of *classes* that are *wanted* (see QueueForm).

    What waits comes oldest first; a list with looked-at ones in it, latest first; unless
    another order is wanted.
    """
    rows = Submission.objects.taught_by(user).active().filter(child__school_class__in=classes)
    if wanted["show"] == QueueForm.LOOKED_AT:
        rows = rows.filter(looked_at__isnull=False)
    elif wanted["show"] != QueueForm.ALL:
        rows = rows.not_yet_looked_at()
    rows = narrowed(rows, wanted)
    if wanted["order"]:
        rows = rows.order_by(*ORDERS[wanted["order"]])
    answers = Prefetch("answers", Answer.objects.select_related("prompt"))
    lines = with_answer_count(rows).prefetch_related(answers)
    return lines.select_related("child__school_class", "look", "lead_mark")


def narrowed(rows: SubmissionQuerySet, wanted: dict[str, Any]) -> SubmissionQuerySet:
    """Keep of *rows* those of a child, group, kind of task or day, or marked for the lead."""
    if wanted["child"]:
        rows = rows.filter(child=wanted["child"])
    if wanted["group"]:
        rows = rows.filter(child__groups=wanted["group"])
    if wanted["kind"]:
        tasks = Task.objects.filter(day_plan=OuterRef("day_plan"), kind=wanted["kind"])
        rows = rows.filter(Exists(tasks))
    if wanted["help"]:
        rows = rows.filter(help=wanted["help"])
    if wanted["day"]:
        rows = rows.filter(day_plan__date=wanted["day"])
    if wanted["marked"]:
        rows = rows.filter(lead_mark__isnull=False, lead_mark__settled_at=None)
    return rows


def offered(classes: QuerySet[SchoolClass], user: User, several: bool, count: bool) -> Offered:
    """Return what the list of *classes* can be narrowed to.

    several: whether *user* has more classes than one. count: whether to say how many wait.
    """
    tasks = Task.objects.filter(day_plan__school_class__in=classes)
    groups = list(Group.objects.filter(school_class__in=classes))
    return Offered(
        children=Child.objects.taught_by(user).filter(school_class__in=classes),
        groups=groups,
        kinds=sorted(tasks.values_list("kind", flat=True).distinct().order_by()),
        several_classes=several,
        counts=counts(classes, user, groups) if count else {},
    )


def counts(
    classes: QuerySet[SchoolClass], user: User, groups: list[Group]
) -> dict[tuple[str, object], int]:
    """Count what waits in *classes* for each child, group, kind and sort of help: 3 queries."""
    waiting = Submission.objects.taught_by(user).active().filter(looked_at=None)
    own = waiting.filter(child__school_class__in=classes).order_by()
    rows = list(own.values_list("child", "help", "day_plan").annotate(Count("pk")))
    members = Group.children.through.objects.filter(group__in=groups)
    groups_of = multimap(members.values_list("child", "group"))
    plans = {plan for _child, _help, plan, _count in rows}
    kinds = Task.objects.filter(day_plan__in=plans).order_by()
    kinds_of = multimap(kinds.values_list("day_plan", "kind").distinct())
    found: Counter[tuple[str, object]] = Counter()
    for child, help_given, plan, count in rows:
        found["child", child] += count
        found["help", help_given] += count
        for group in groups_of.get(child, ()):
            found["group", group] += count
        for kind in kinds_of.get(plan, ()):
            found["kind", kind] += count
    return found


def multimap(pairs: Any) -> dict[Any, list[Any]]:
    """Gather the second of each of *pairs* under its first."""
    found: dict[Any, list[Any]] = {}
    for first, second in pairs:
        found.setdefault(first, []).append(second)
    return found


def with_answer_count(rows: SubmissionQuerySet) -> SubmissionQuerySet:
    """Fetch along the child, day and pieces of each, and how many answers came with it."""
    # Counted row by row: a join would have the database count for every row it then leaves out.
    answers = Answer.objects.filter(submission=OuterRef("pk")).order_by().values("submission")
    count = Coalesce(Subquery(answers.values(n=Count("pk"))), 0)
    return rows.for_list().annotate(answer_count=count)


def recent_nonsubmissions(school_class: SchoolClass, user: User) -> list[Nonsubmission]:
    """List what homes of *school_class* said in the last days, the latest first, for its staff."""
    said = Nonsubmission.objects.taught_by(user).active()
    lately = said.filter(child__school_class=school_class, said_at__gt=timezone.now() - SHOWN_FOR)
    return list(lately.select_related("child", "day_plan")[:AT_MOST])

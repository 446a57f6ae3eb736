"""The list of what came in, as the looking page's way in."""

from typing import Any

from django.db.models import Count, OuterRef, Subquery
from django.db.models.functions import Coalesce

from assessment.forms.queue import QueueForm
from evidence.models import Answer, Submission, SubmissionQuerySet
from portal.people.models import SchoolClass, User


def queue(school_class: SchoolClass, user: User, wanted: dict[str, Any]) -> SubmissionQuerySet:
    """Give the submissions of *school_class* that are *wanted* (see QueueForm).

    What waits comes oldest first; a list with looked-at ones in it, latest first.
    """
    rows = Submission.objects.taught_by(user).standing().filter(child__school_class=school_class)
    if wanted["show"] == QueueForm.LOOKED_AT:
        rows = rows.filter(looked_at__isnull=False)
    elif wanted["show"] != QueueForm.ALL:
        rows = rows.not_yet_looked_at()
    if wanted["child"]:
        rows = rows.filter(child=wanted["child"])
    if wanted["help"]:
        rows = rows.filter(help=wanted["help"])
    return with_answer_count(rows)


def with_answer_count(rows: SubmissionQuerySet) -> SubmissionQuerySet:
    """Fetch along the child, day and pieces of each, and how many answers came with it."""
    # Counted row by row: a join would have the database count for every row it then leaves out.
    answers = Answer.objects.filter(submission=OuterRef("pk")).order_by().values("submission")
    count = Coalesce(Subquery(answers.values(n=Count("pk"))), 0)
    return rows.for_list().annotate(answer_count=count)

"""Learning by night how common each mistake is in a school, from its own answers alone."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import astuple

from django.utils import timezone

from assessment.looks.marking import MarkedTask, mark_answers
from assessment.models import MistakeShares
from evidence.models import Answer, Submission
from portal.people.models import School
from tasks.numberwork import KINDS
from tasks.numberwork.mistakes.model import Key
from tasks.numberwork.mistakes.shares import Share, Weighed, learn

LOOKING_BACK = dt.timedelta(weeks=40)  # about a school year
WORKS_AT_MOST = 3000  # the latest: more would tell hardly more, and cost the night
AT_ONCE = 200


def learn_all() -> None:
    """Reckon anew how common mistakes are, school by school."""
    for school in School.objects.all():
        learn_of(school)


def learn_of(school: School) -> None:
    """Reckon how common each mistake is in the work sent to *school*, and keep that."""
    now = timezone.now()
    MistakeShares.objects.bulk_create(
        [
            MistakeShares(
                school=school,
                kind=kind,
                sets=len(works),
                shares=_as_json(learn(kind, works)),
                reckoned_at=now,
            )
            for kind, works in answered_tasks(school, now - LOOKING_BACK).items()
        ],
        update_conflicts=True,
        unique_fields=["school", "kind"],
        update_fields=["sets", "shares", "reckoned_at"],
    )
    MistakeShares.objects.of_school(school).filter(reckoned_at__lt=now).delete()


def answered_tasks(school: School, since: dt.datetime) -> dict[str, list[Weighed]]:
    """Weigh the answered tasks of the latest work sent to *school*, by their kind."""
    sent = Submission.objects.active().filter(child__school=school, sent_at__gte=since)
    keys = list(sent.order_by("-sent_at", "-pk").values_list("pk", flat=True)[:WORKS_AT_MOST])
    found: dict[str, list[Weighed]] = defaultdict(list)
    for start in range(0, len(keys), AT_ONCE):
        for task in _marked(keys[start : start + AT_ONCE]):
            kinds = {one.prompt.kind for one in task.counted}
            if len(kinds) == 1 and kinds <= KINDS.keys():
                found[kinds.pop()].append(task.weighed())
    return found


def _marked(submissions: list[int]) -> Iterator[MarkedTask]:
    """Mark the answers of some submissions, one submission after the other."""
    answers: dict[int, list[Answer]] = defaultdict(list)
    for answer in Answer.objects.filter(submission__in=submissions).select_related("prompt__task"):
        answers[answer.submission_id].append(answer)
    for given in answers.values():
        yield from mark_answers(given, {})


def _as_json(shares: Mapping[Key | str, Share]) -> list[list[object]]:
    """Return what was found as it is kept."""
    return [
        [name if isinstance(name, str) else name[1], isinstance(name, tuple), *astuple(share)]
        for name, share in shares.items()
    ]

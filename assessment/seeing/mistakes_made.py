"""Which mistakes children's answers suggest, piece by piece, over as long a time as is asked."""

import datetime as dt
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from assessment.insight.rows import Worked
from assessment.marking import mark_answers
from assessment.models import MistakesFound
from evidence.models import Answer, Submission
from tasks.numberwork import KINDS

Tasks = list[list]  # For each task: its kind, what its answers could show, what they suggest.


@dataclass(frozen=True)
class Piece:
    """What is asked of a submission here."""

    pk: int
    child: int
    on: dt.date
    sent_at: dt.datetime
    looked_at: dt.datetime | None


def work_of(children: Collection[int], first: dt.datetime, before: dt.datetime) -> list[Piece]:
    """Give what *children* sent from *first* on and *before* a moment, oldest first."""
    rows = Submission.objects.standing().filter(
        child__in=children, sent_at__gte=first, sent_at__lt=before
    )
    fields = ("pk", "child", "day_plan__date", "sent_at", "looked_at")
    return [Piece(*row) for row in rows.order_by("sent_at", "pk").values_list(*fields)]


def worked(pieces: Collection[Piece]) -> list[Worked]:
    """Give the kinds that *pieces* answer, what mistakes each could show, and those suggested."""
    found = mistakes_in(pieces)
    return [
        Worked(piece.child, piece.on, kind, frozenset(could), frozenset(suggested))
        for piece in pieces
        for kind, could, suggested in found.get(piece.pk, ())
    ]


def mistakes_in(pieces: Collection[Piece]) -> dict[int, Tasks]:
    """Give the mistakes in each of *pieces* by its key, and keep those of what was looked at."""
    rows = MistakesFound.objects.filter(submission__in=[piece.pk for piece in pieces])
    kept = {
        (key, looked_at): tasks
        for key, looked_at, tasks in rows.values_list("submission", "looked_at", "tasks")
    }
    found = {
        piece.pk: kept[piece.pk, piece.looked_at]
        for piece in pieces
        if (piece.pk, piece.looked_at) in kept
    }
    new = [piece for piece in pieces if piece.pk not in found]
    if new:
        fresh = spot([piece.pk for piece in new])
        keep([piece for piece in new if piece.looked_at], fresh)
        found |= fresh
    return found


def spot(submissions: Collection[int]) -> dict[int, Tasks]:
    """Mark the answers of *submissions* and name the mistakes that are likely behind them."""
    answers: dict[int, list[Answer]] = {key: [] for key in submissions}
    rows = Answer.objects.filter(submission__in=submissions).select_related("prompt__task")
    for answer in rows:
        answers[answer.submission_id].append(answer)
    return {key: list(_tasks(given)) for key, given in answers.items()}


def _tasks(answers: Iterable[Answer]) -> Iterator[list]:
    for marked in mark_answers(answers):
        likely = [one.mistake for one in marked.suggestions() if one.percent is not None]
        yield [marked.task.kind, sorted(marked.could_show), likely]


def keep(pieces: Iterable[Piece], found: dict[int, Tasks]) -> None:
    """Keep the mistakes in *pieces*, all of which were looked at."""
    MistakesFound.objects.bulk_create(
        [
            MistakesFound(submission_id=piece.pk, looked_at=piece.looked_at, tasks=found[piece.pk])
            for piece in pieces
        ],
        update_conflicts=True,
        unique_fields=["submission"],
        update_fields=["looked_at", "tasks"],
    )


def sentence_of(mistake: str, kind: str) -> str:
    """Say a mistake in the words of its kind; its bare name where the kind is no longer there."""
    return KINDS[kind].mistakes.get(mistake, mistake) if kind in KINDS else mistake

"""Which mistakes children's answers suggest, by submission, over as long a time as is asked."""

import datetime as dt
import logging
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field

from assessment.insight.rows import Mistake, Worked
from assessment.looks.learnt_shares import Learnt, learnt_in
from assessment.looks.marking import mark_answers
from assessment.models import MistakesFound
from evidence.models import Answer, Submission, SubmissionQuerySet
from tasks.numberwork import KINDS, kind_kept
from tasks.numberwork.kinds.mistakes import SENTENCES
from tasks.numberwork.pool import STEPS

log = logging.getLogger("assessment")

Tasks = list[list]  # For each task: its kind, what its answers could show, what they suggest.
IN_A_TASK = 3


@dataclass(frozen=True)
class Found:
    """What one submission shows. is_whole: whether all of its answers could be read."""

    tasks: Tasks = field(default_factory=list)
    is_whole: bool = True


@dataclass(frozen=True)
class SentWork:
    """What is asked of a submission here: whose, for which day, when sent and when looked at."""

    pk: int
    child: int
    on: dt.date
    sent_at: dt.datetime
    looked_at: dt.datetime | None


def work_of(children: Collection[int], first: dt.datetime, before: dt.datetime) -> list[SentWork]:
    """Return what *children* sent from *first* on and *before* a moment, oldest first."""
    return as_sent(
        Submission.objects.filter(child__in=children, sent_at__gte=first, sent_at__lt=before)
    )


def work_for(children: Collection[int], first: dt.date, last: dt.date) -> list[SentWork]:
    """Return what *children* sent for the days from *first* to *last*, whenever it came."""
    return as_sent(
        Submission.objects.filter(child__in=children, day_plan__date__range=(first, last))
    )


def as_sent(rows: SubmissionQuerySet) -> list[SentWork]:
    """Read of *rows* those that stand, oldest first."""
    fields = ("pk", "child", "day_plan__date", "sent_at", "looked_at")
    standing = rows.active().order_by("sent_at", "pk")
    return [SentWork(*row) for row in standing.values_list(*fields)]


def worked(works: Collection[SentWork]) -> list[Worked]:
    """Give the kinds that *works* answer, what mistakes each could show, and those suggested."""
    return as_worked(works, mistakes_in(works))


def as_worked(works: Collection[SentWork], found: Mapping[int, Found]) -> list[Worked]:
    """Return what was *found* in *works* as rows to reckon with."""
    return [
        Worked(work.child, work.on, kind, frozenset(could), frozenset(suggested))
        for work in works
        for kind, could, suggested in found[work.pk].tasks
    ]


def mistakes_in(works: Collection[SentWork]) -> dict[int, Found]:
    """Return the mistakes in each of *works* by its key, and keep those of what was looked at."""
    rows = MistakesFound.objects.filter(submission__in=[work.pk for work in works])
    kept = {
        (key, looked_at): Found(tasks)
        for key, looked_at, tasks in rows.values_list("submission", "looked_at", "tasks")
        if is_sound(tasks)
    }
    found = {
        work.pk: kept[work.pk, work.looked_at]
        for work in works
        if (work.pk, work.looked_at) in kept
    }
    new = [work for work in works if work.pk not in found]
    if new:
        fresh = spot([work.pk for work in new])
        keep([work for work in new if work.looked_at and fresh[work.pk].is_whole], fresh)
        found |= fresh
    return found


def is_sound(tasks: object) -> bool:
    """Tell whether kept *tasks* are as this program keeps them; others are made again."""
    return isinstance(tasks, list) and all(
        isinstance(each, list) and len(each) == IN_A_TASK for each in tasks
    )


def spot(submissions: Collection[int]) -> dict[int, Found]:
    """Mark the answers of *submissions* and name the mistakes that are likely behind them."""
    answers: dict[int, list[Answer]] = {key: [] for key in submissions}
    rows = Answer.objects.filter(submission__in=submissions).select_related("prompt__task")
    for answer in rows:
        answers[answer.submission_id].append(answer)
    schools = dict(Submission.objects.filter(pk__in=submissions).values_list("pk", "child__school"))
    learnt = {school: learnt_in(school) for school in set(schools.values())}
    return {key: _found(key, given, learnt[schools[key]]) for key, given in answers.items()}


def _found(submission: int, answers: Iterable[Answer], learnt: Learnt) -> Found:
    """Read the answers of one submission; what is wrong with them keeps no other from being read.

    A whole class's week, grid and groups are reckoned from many: one must not take them along.
    """
    try:
        marked = mark_answers(answers, learnt)
        tasks = [
            [
                one.task.kind,
                sorted(one.could_show),
                [each.mistake for each in one.suggestions() if each.is_mistake],
            ]
            for one in marked
        ]
        is_whole = not any(one.is_unread for one in marked)
    except Exception as error:
        # The error's own words may hold what a family typed, and may not stand in a log.
        log.error("the answers of work %s cannot be read: %s", submission, type(error).__name__)
        return Found(is_whole=False)
    if not is_whole:
        log.warning("some answers of work %s are to prompts that cannot be read", submission)
    return Found(tasks, is_whole)


def keep(works: Iterable[SentWork], found: Mapping[int, Found]) -> None:
    """Keep the mistakes in *works*, all of which were looked at."""
    MistakesFound.objects.bulk_create(
        [
            MistakesFound(
                submission_id=work.pk, looked_at=work.looked_at, tasks=found[work.pk].tasks
            )
            for work in works
        ],
        update_conflicts=True,
        unique_fields=["submission"],
        update_fields=["looked_at", "tasks"],
    )


def words_of(mistake: Mistake) -> str | None:
    """Say a mistake in the words of its own kind; a plain miscount has words in every kind.

    An older program kept some without their kind: these are said where all kinds agree. None for
    one that is gone. The one way from a stored name of a mistake to a sentence.
    """
    kinds = [kind_kept(mistake.kind)] if mistake.kind else KINDS.values()
    known = {kind.mistakes[mistake.name] for kind in kinds if mistake.name in kind.mistakes}
    if mistake.name in STEPS:
        known = known or {SENTENCES[mistake.name]}
    return known.pop() if len(known) == 1 else None


def sentence_of(mistake: Mistake) -> str:
    """Say a mistake as `words_of` does; one that is gone by its bare name."""
    return words_of(mistake) or mistake.name

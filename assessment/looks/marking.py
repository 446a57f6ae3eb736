"""Marking what was typed, and naming the mistakes that may lie behind it."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Q

from evidence.models import Answer, Submission
from tasks.models import Task, TaskPrompt
from tasks.numberwork import Finding, Prompt, read_in_any, spot_mistakes
from tasks.numberwork.mistakes.spotting import CANNOT_TELL, SURE, UNCLEAR
from tasks.numberwork.pool import NONE

SUREST = 99  # per cent: a few answers are never certain
SHOWN_AT_MOST = 3  # Right answers of an open question; it may have twenty.


@dataclass(frozen=True)
class MarkedPrompt:
    """A prompt as it was set, what was typed for it ("" for nothing), and whether that is right."""

    row: TaskPrompt
    prompt: Prompt
    typed: str

    @property
    def right(self) -> bool | None:
        """Whether the answer is right; None where nothing was typed, or nobody can tell."""
        if not self.typed.strip() or not self.prompt.can_be_marked:
            return None
        return read_in_any(self.prompt, self.typed) in self.prompt.right_answers

    @property
    def is_unread(self) -> bool:
        """Whether something was typed, and what was asked can no longer be read."""
        return bool(self.typed.strip()) and not self.prompt.can_be_marked

    @property
    def right_answers(self) -> list[str]:
        """Return the first few right answers, as they are written."""
        return [written(answer) for answer in self.prompt.right_answers[:SHOWN_AT_MOST]]

    @property
    def more_right_answers(self) -> int:
        """Return how many further answers are right."""
        return max(0, len(self.prompt.right_answers) - SHOWN_AT_MOST)


@dataclass(frozen=True)
class Suggestion:
    """A mistake that may lie behind some answers: for a teacher to judge, with how likely it is.

    percent is None where the answers could mean several things.
    """

    mistake: str
    sentence: str
    percent: int | None = None


@dataclass(frozen=True)
class MarkedTask:
    """One part of the day with its prompts marked."""

    task: Task
    prompts: tuple[MarkedPrompt, ...]

    @property
    def answered(self) -> list[MarkedPrompt]:
        """Return the prompts for which something was typed that can be marked."""
        return [one for one in self.prompts if one.right is not None]

    @property
    def is_answered(self) -> bool:
        """Whether anything was typed, marked or not."""
        return bool(self.answered) or self.is_unread

    @property
    def is_unread(self) -> bool:
        """Whether something was typed for what can no longer be read."""
        return any(one.is_unread for one in self.prompts)

    @property
    def title(self) -> str:
        """Return what the task practises, in the trade's words."""
        return self.task.title

    @property
    def could_show(self) -> frozenset[str]:
        """Name the mistakes that the answered prompts can show."""
        return frozenset(name for one in self.answered for name in one.prompt.mistakes)

    def suggestions(self) -> list[Suggestion]:
        """Name the mistake behind the wrong answers where one is likely; nothing for right ones."""
        answered = self.answered
        if all(one.right for one in answered):
            return []
        prompts = [one.prompt for one in answered]
        return likely(
            spot_mistakes(prompts, [read_in_any(one.prompt, one.typed) for one in answered])
        )


def likely(findings: Iterable[Finding]) -> list[Suggestion]:
    """Keep of *findings* what is worth a teacher's while: likely mistakes, or what to ask next."""
    ranked = list(findings)
    if ranked and ranked[0].mistake == CANNOT_TELL:
        return [Suggestion(CANNOT_TELL, ranked[0].sentence)]
    return [
        Suggestion(one.mistake, one.sentence, min(SUREST, round(100 * one.probability)))
        for one in ranked
        if one.probability >= SURE and one.mistake not in (NONE, UNCLEAR)
    ]


def written(answer: object) -> str:
    """Write an answer as a person would.

    >>> written((2, 3)), written("odd"), written(4)
    ('2, 3', 'odd', '4')
    """
    return ", ".join(map(str, answer)) if isinstance(answer, tuple) else str(answer)


def marked_tasks(submission: Submission) -> list[MarkedTask]:
    """Mark what *submission* answers, part by part in the order of the day.

    Tasks are those its child is set now, and any others that it answers: a child may have
    changed groups since.
    """
    typed = {answer.prompt_id: answer.text for answer in submission.answers.all()}
    set_now = Task.objects.for_child(submission.child).values("pk")
    tasks = submission.day_plan.tasks.filter(
        Q(pk__in=set_now) | Q(prompts__in=list(typed))
    ).distinct()
    marked = [mark_task(task, typed) for task in tasks.prefetch_related("prompts")]
    return sorted(marked, key=lambda one: one.task.position)


def mark_task(task: Task, typed: dict[int, str]) -> MarkedTask:
    """Mark one task; *typed*: what was typed, by the prompt's key."""
    rows = [MarkedPrompt(row, row.prompt, typed.get(row.pk, "")) for row in task.prompts.all()]
    return MarkedTask(task, tuple(rows))


def mark_answers(answers: Iterable[Answer]) -> list[MarkedTask]:
    """Mark *answers* alone, task by task; prompts without one are left out."""
    by_task: dict[int, list[MarkedPrompt]] = {}
    tasks: dict[int, Task] = {}
    for answer in answers:
        row = answer.prompt
        tasks[row.task_id] = row.task
        by_task.setdefault(row.task_id, []).append(MarkedPrompt(row, row.prompt, answer.text))
    return [MarkedTask(tasks[key], tuple(prompts)) for key, prompts in by_task.items()]


def kinds_by_weight(marked: Iterable[MarkedTask]) -> list[str]:
    """Name the kinds of the tasks that were answered, or else of all; the main task's first."""
    parts = list(marked)
    chosen = [one for one in parts if one.is_answered] or parts
    chosen.sort(key=lambda one: (one.task.part != Task.Part.MAIN_TASK, one.task.position))
    return list(dict.fromkeys(one.task.kind for one in chosen))

"""Marking what was typed, and naming the mistakes that may lie behind it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.db.models import Q
from django.utils.translation import gettext as _

from assessment.looks.learnt_shares import Learnt, learnt_in
from evidence.models import Answer as TypedAnswer
from evidence.models import Piece, Submission
from tasks.models import Task, TaskPrompt
from tasks.numberwork import Answer, Finding, Prompt, read_in_any, spot_mistakes
from tasks.numberwork.mistakes.model import Key
from tasks.numberwork.mistakes.shares import Weighed
from tasks.numberwork.mistakes.spotting import nameable, weighed
from tasks.numberwork.pool import NONE
from tasks.numberwork.words.work_done import work_done

SHOWN_AT_MOST = 3  # Right answers of an open question; it may have twenty.


@dataclass(frozen=True)
class MarkedPrompt:
    """A prompt as it was set, what was typed for it ("" for nothing), and whether that is right.

    help: as it was said for its part. glimpse: how long its picture was seen, in milliseconds;
    None where it was not covered. voice: the note in which the child says how it knows.
    """

    row: TaskPrompt
    prompt: Prompt
    typed: str
    help: str = ""
    glimpse: int | None = None
    voice: Piece | None = None

    @classmethod
    def of(
        cls, row: TaskPrompt, answer: TypedAnswer | None, voice: Piece | None = None
    ) -> "MarkedPrompt":
        """Mark what was typed for *row*, and said beside it; None for nothing."""
        if answer is None:
            return cls(row, row.prompt, "", voice=voice)
        return cls(row, row.prompt, answer.text, answer.help, answer.glimpse, voice)

    @property
    def right(self) -> bool | None:
        """Whether the answer is right; None where nothing was typed, or nobody can tell."""
        if not self.typed.strip() or not self.prompt.can_be_marked:
            return None
        return read_in_any(self.prompt, self.typed) in self.prompt.right_answers

    @property
    def is_unread(self) -> bool:
        """Whether something was typed, and what was asked can no longer be read."""
        return self._unmarked and not self.prompt.is_own

    @property
    def is_to_look_at(self) -> bool:
        """Whether something was typed for what the teacher asked and looks at herself."""
        return self._unmarked and self.prompt.is_own

    @property
    def _unmarked(self) -> bool:
        return bool(self.typed.strip()) and not self.prompt.can_be_marked

    @property
    def right_answers(self) -> list[str]:
        """Return the first few right answers, as they are written; none where none is known."""
        if not self.prompt.can_be_marked:
            return []
        return [written(answer) for answer in self.prompt.right_answers[:SHOWN_AT_MOST]]

    @property
    def more_right_answers(self) -> int:
        """Return how many further answers are right."""
        return max(0, len(self.prompt.right_answers) - SHOWN_AT_MOST)


@dataclass(frozen=True)
class Suggestion:
    """What may lie behind some answers: for a teacher to judge.

    is_mistake: it is one mistake, or a miscount; else the answers could mean several things, or
    one of them tells enough to ask one more like it.
    """

    mistake: str
    sentence: str
    is_mistake: bool = False


@dataclass(frozen=True)
class MarkedTask:
    """One part of the day with its prompts marked.

    shares: how common mistakes of this kind are in the school, where it has learnt that.
    """

    task: Task
    prompts: tuple[MarkedPrompt, ...]
    shares: Mapping[Key | str, float] | None = None

    @property
    def answered(self) -> list[MarkedPrompt]:
        """Return the prompts for which something was typed that can be marked."""
        return [one for one in self.prompts if one.right is not None]

    @property
    def counted(self) -> list[MarkedPrompt]:
        """Return those answered from which anything may be concluded: not a teacher's own."""
        return [one for one in self.answered if not one.prompt.is_own]

    @property
    def is_answered(self) -> bool:
        """Whether anything was typed, marked or not, or said."""
        return any(
            one.right is not None or one.is_unread or one.is_to_look_at or one.voice
            for one in self.prompts
        )

    @property
    def is_unread(self) -> bool:
        """Whether something was typed for what can no longer be read."""
        return any(one.is_unread for one in self.prompts)

    @property
    def title(self) -> str:
        """Return what the task practises, in the trade's words."""
        return self.task.title

    @property
    def help(self) -> str:
        """Return how much help the family says there was; "" where it says nothing."""
        return next((one.help for one in self.answered if one.help), "")

    @property
    def help_words(self) -> str:
        """Say how much help there was, in words."""
        return str(Submission.Help(self.help).label if self.help else _("help not said"))

    @property
    def could_show(self) -> frozenset[str]:
        """Name the mistakes that the answered prompts could have told."""
        return frozenset(name for _, name in nameable([one.prompt for one in self.counted]))

    def suggestions(self) -> list[Suggestion]:
        """Name the mistake behind the wrong answers where one is likely; nothing for right ones."""
        answered = self.counted
        if all(one.right for one in answered):
            return []
        return likely(spot_mistakes(*self._read(), shares=self.shares))

    def weighed(self) -> Weighed:
        """Weigh the answers, for a school to learn from."""
        return weighed(*self._read())

    def _read(self) -> tuple[list[Prompt], list[Answer | None]]:
        """Return the prompts that were answered, and what was answered."""
        answered = self.counted
        return (
            [one.prompt for one in answered],
            [read_in_any(one.prompt, one.typed) for one in answered],
        )


def likely(findings: Iterable[Finding]) -> list[Suggestion]:
    """Keep of *findings* what is worth a teacher's while: the first, unless nothing is behind."""
    first = next(iter(findings), None)
    if first is None or (first.mistake == NONE and first.next_prompt is None):
        return []
    return [Suggestion(first.mistake, first.sentence, first.is_mistake)]


def written(answer: object) -> str:
    """Write an answer as a person would.

    >>> written((2, 3)), written("odd"), written(4)
    ('2, 3', 'odd', '4')
    """
    return ", ".join(map(str, answer)) if isinstance(answer, tuple) else str(answer)


def marked_tasks(submission: Submission) -> list[MarkedTask]:
    """Mark what *submission* answers, part by part in the order of the day.

    Tasks are those its child is set now, and any others that it answers: a child may have
    changed groups since. What is done together is left out: nobody answers it.
    """
    typed = {answer.prompt_id: answer for answer in submission.answers.all()}
    voices = {
        piece.prompt_id: piece
        for piece in submission.pieces.all()
        if piece.is_how and piece.withdrawn_at is None
    }
    set_now = Task.objects.for_child(submission.child).values("pk")
    tasks = submission.day_plan.tasks.filter(
        Q(pk__in=set_now) | Q(prompts__in=[*typed, *voices])
    ).distinct()
    learnt = learnt_in(submission.child.school_id)
    marked = [
        mark_task(task, typed, voices, learnt)
        for task in tasks.prefetch_related("prompts")
        if not task.is_together
    ]
    return sorted(marked, key=lambda one: one.task.position)


def mark_task(
    task: Task, typed: dict[int, TypedAnswer], voices: dict[int, Piece], learnt: Learnt
) -> MarkedTask:
    """Mark one task; *typed*, *voices*: what was typed and said, by the prompt's key.

    *learnt*: in the school.
    """
    rows = [
        MarkedPrompt.of(row, typed.get(row.pk), voices.get(row.pk)) for row in task.prompts.all()
    ]
    return MarkedTask(task, tuple(rows), learnt.get(task.kind))


def mark_answers(answers: Iterable[TypedAnswer], learnt: Learnt) -> list[MarkedTask]:
    """Mark *answers* alone, task by task; prompts without one are left out."""
    by_task: dict[int, list[MarkedPrompt]] = {}
    tasks: dict[int, Task] = {}
    for answer in answers:
        row = answer.prompt
        tasks[row.task_id] = row.task
        by_task.setdefault(row.task_id, []).append(MarkedPrompt.of(row, answer))
    return [
        MarkedTask(tasks[key], tuple(prompts), learnt.get(tasks[key].kind))
        for key, prompts in by_task.items()
    ]


def done_in(marked: Iterable[MarkedTask]) -> str:
    """Say what was found by the hardest question that was answered rightly; "" for none.

    The main task's before those of other parts: a set goes from easy to hard.
    """
    parts = sorted(marked, key=lambda one: (not one.task.is_main, one.task.position))
    said = (
        work_done(each.prompt) for part in parts for each in reversed(part.counted) if each.right
    )
    return next(filter(None, said), "")


def kinds_by_weight(marked: Iterable[MarkedTask]) -> list[str]:
    """Name the kinds of the tasks that were answered, or else of all; the main task's first.

    A task of nothing but a teacher's own questions is of no kind.
    """
    parts = [one for one in marked if not all(each.prompt.is_own for each in one.prompts)]
    chosen = [one for one in parts if one.is_answered] or parts
    chosen.sort(key=lambda one: (not one.task.is_main, one.task.position))
    return list(dict.fromkeys(one.task.kind for one in chosen))

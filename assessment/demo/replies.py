"""What a child of the story answers, and what the staff reply."""

import random

from assessment.demo.story import HALVING, MISTAKE_REPLIES, MISTAKEN, READY, REPLIES
from assessment.looks.ready_made import NEXT_STEPS, STARTERS, filled
from portal.people.models import Child
from tasks.models import Task, TaskPrompt

SLIP = 0.06
WEEKS_OF_HALVING = 3


def mistake_of(name: str, task: Task, weeks_back: int) -> str:
    """Name the mistake that *name* makes in the halving of so many weeks ago; "" for none."""
    mistake, weeks = MISTAKEN.get(name, ("", 0))
    if task.kind not in HALVING:
        return ""
    return mistake if WEEKS_OF_HALVING - weeks_back <= weeks else ""


def answer_to(row: TaskPrompt, mistake: str, chance: random.Random) -> str:
    """Return what the child answers: right, but for a slip or the mistake that it makes."""
    prompt = row.prompt
    if mistake in prompt.mistakes:
        return str(prompt.mistakes[mistake])
    wrong = list(prompt.mistakes.values())
    answer = chance.choice(wrong) if wrong and chance.random() < SLIP else prompt.answer
    return ", ".join(map(str, answer)) if isinstance(answer, tuple) else str(answer)


def reply_for(kind: str, mistake: str, child: Child, chance: random.Random) -> tuple[str, str]:
    """Return the reply to a child and the next step."""
    if mistake in MISTAKE_REPLIES:
        reply, next_step = MISTAKE_REPLIES[mistake]
    else:
        ready = [
            (filled(STARTERS[reply], child, [kind]), NEXT_STEPS[step]) for reply, step in READY
        ]
        reply, next_step = chance.choice([*(REPLIES.get(kind) or REPLIES[""]), *ready])
    return reply.format(name=child.first_name), next_step

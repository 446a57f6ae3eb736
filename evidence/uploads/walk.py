"""The walk through a child's day: one prompt a screen, each with its place to answer."""

import re
from dataclasses import dataclass

from evidence.uploads.forms import SendForm
from evidence.uploads.questions import Part as Asked
from evidence.uploads.questions import Question, parts
from tasks.cards.card import Card, Line, Part, make_card
from tasks.cards.wording import ToShow
from tasks.models import DayPlan, Task
from tasks.numberwork import kind_kept

READY, SEND = "ready", "send"
MAIN = "main-task"
BOX = "□"


@dataclass(frozen=True, slots=True)
class Step:
    """One prompt as a screen.

    name: its place in the page, the same for two children who are at the same place of a day.
    question: where its answer is written; none where it is only done and said. number: from 1,
    of those before enough, or after. opens, closes: whether it is the first, the last of its part.
    back and on: the screens beside it.
    """

    name: str
    part: Part
    line: Line
    question: Question | None
    number: int
    opens: bool
    closes: bool
    back: str
    on: str

    @property
    def around_box(self) -> tuple[str, str] | None:
        """Return what stands before and after the one box that a number is written into."""
        before, box, after = self.line.sentence.partition(BOX)
        alone = box and BOX not in after
        return (before, after) if alone and self.question and self.question.wants_number else None

    @property
    def asks_how(self) -> bool:
        """Whether the child can say to the teacher how it knows."""
        return bool(self.question) and kind_kept(self.part.kind).asks_how

    @property
    def to_order(self) -> list[str]:
        """Return the numbers that are to be put in order, as the sentence gives them."""
        if not self.question or not isinstance(self.question.prompt.kept("answer"), list):
            return []
        return re.findall(r"\d+", self.line.sentence)


@dataclass(frozen=True, slots=True)
class Walk:
    """A card as screens: those of what is asked for, and those for who would like more.

    asked: the parts that are answered, each with its field for the help there was.
    """

    card: Card
    steps: list[Step]
    more: list[Step]
    asked: list[Asked]

    @property
    def show(self) -> ToShow | None:
        """Return the one thing to show of the day: that of its main part."""
        asked = [part for part in self.card.parts if not part.more and not part.together]
        return next((part.show for part in asked if part.key == MAIN), None)

    @property
    def begins(self) -> str:
        """Return the first screen after what to have ready."""
        return self.steps[0].name if self.steps else SEND

    @property
    def more_begins(self) -> str:
        """Return the first screen for who would like more; none where there is no more."""
        return self.more[0].name if self.more else ""


def make_walk(
    plan: DayPlan, tasks: list[Task], form: SendForm, language: str, *, second: bool = False
) -> Walk:
    """Lay the card of *plan* out as a walk, each prompt beside its field of *form*.

    second: for a child who walks beside a brother or sister with the same prompts. Each two of
    them change places, so that the two are never asked the same at the same time.
    """
    card = make_card(plan, tasks, language)
    asked = list(parts(tasks, form))
    questions = {each.prompt.pk: each for part in asked for each in part.questions}

    def screens(before: str, *, more: bool) -> list[Step]:
        lines = [
            (part, at, line)
            for part in card.parts
            if part.more == more
            for at, line in enumerate(_swapped(part.lines) if second else part.lines, 1)
        ]
        names = [before, *(f"{part.key}-{at}" for part, at, _line in lines), SEND]
        return [
            Step(
                names[number],
                part,
                line,
                questions.get(line.pk),
                number,
                opens=at == 1,
                closes=at == len(part.lines),
                back=names[number - 1],
                on=names[number + 1],
            )
            for number, (part, at, line) in enumerate(lines, 1)
        ]

    return Walk(card, screens(READY, more=False), screens(SEND, more=True), asked)


def _swapped(lines: list[Line]) -> list[Line]:
    """Let each two of *lines* change places.

    >>> _swapped([1, 2, 3, 4, 5])
    [2, 1, 4, 3, 5]
    """
    return [each for at in range(0, len(lines), 2) for each in reversed(lines[at : at + 2])]

"""The questions a child was set on a day, as the sending page asks for their answers."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from django.db.models import Prefetch
from django.forms import BoundField
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from evidence.uploads.forms import ANSWER, GLIMPSE, PART_HELP, SendForm
from portal.people.models import Child
from tasks.cards.card import drawn
from tasks.cards.languages import Said, page_language, said_in
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork.showing.facts import is_glimpsed
from tasks.templatetags.in_words import said_on_page, sentence_here


@dataclass(frozen=True)
class Question:
    """One prompt with its field: a number, one of a few choices, or free words.

    glimpse: the field that keeps how long its picture was seen, of one that is only glimpsed.
    """

    prompt: TaskPrompt
    field: BoundField
    glimpse: BoundField | None = None

    @cached_property
    def said(self) -> Said:
        """Return the prompt in the words of the page."""
        return said_on_page(self.prompt)

    @property
    def label(self) -> SafeString:
        """Return the sentence that asks, in the page's language."""
        return sentence_here(self.prompt)

    @property
    def picture(self) -> SafeString:
        """Return the picture it asks about, as on the card; none where its words name a number."""
        if any(letter.isdigit() for letter in self.prompt.sentence):
            return SafeString("")
        prompt = self.prompt.prompt
        return drawn(prompt, said_in(prompt, page_language()))

    @property
    def choices(self) -> list[tuple[str, str]]:
        """Return the choices as pairs for a row of buttons; none for a free answer."""
        known = list(zip(self.prompt.choices, self.said.choices, strict=True))
        return [*known, ("", _("no answer"))] if known else []

    @property
    def wants_number(self) -> bool:
        """Whether number keys are all it takes."""
        return isinstance(self.prompt.kept("answer"), int)

    @property
    def digits(self) -> int:
        """Return how many digits to leave room for: one more than it has, so as not to tell."""
        right = (self.prompt.kept("answer"), *self.prompt.kept("answers"))
        return max(len(str(each)) for each in right) + 1


@dataclass(frozen=True)
class Part:
    """One task of the day with its questions, and the field for the help there was with it."""

    task: Task
    questions: list[Question]
    help: BoundField

    @property
    def answers(self) -> str:
        """Return the names of the fields that its answers are written into."""
        return ",".join(each.field.html_name for each in self.questions)


def tasks_of(child: Child, plan: DayPlan) -> list[Task]:
    """List the tasks of *plan* that are for *child* in the order of the day, prompts fetched."""
    prompts = Prefetch("prompts", TaskPrompt.objects.order_by("position"))
    tasks = plan.tasks.for_child(child).prefetch_related(prompts)
    return sorted(tasks, key=lambda task: task.position)


def prompts_of(tasks: list[Task]) -> list[TaskPrompt]:
    """List the prompts of *tasks* that are answered, in order: what is done together is not."""
    return [prompt for task in tasks if not task.is_together for prompt in task.prompts.all()]


def parts(tasks: list[Task], form: SendForm) -> Iterator[Part]:
    """Yield *tasks* that have prompts to answer, each prompt beside its field of *form*."""
    for task in tasks:
        questions = [question_of(each, form) for each in prompts_of([task])]
        if questions:
            yield Part(task, questions, form[f"{PART_HELP}{task.pk}"])


def question_of(prompt: TaskPrompt, form: SendForm) -> Question:
    """Return *prompt* beside its fields of *form*."""
    glimpsed = is_glimpsed(prompt.kept("kind"))
    glimpse = form[f"{GLIMPSE}{prompt.pk}"] if glimpsed else None
    return Question(prompt, form[f"{ANSWER}{prompt.pk}"], glimpse)

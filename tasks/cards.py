"""The card of a day as a family reads it: parts with pictures, words, cautions and answers."""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.utils.formats import date_format
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from tasks.languages import ENGLISH, base_of, number_words, own_name, spoken_in
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import KINDS, Prompt, number_word
from tasks.safety import ALWAYS, cautions

SHOWN_ANSWERS = 3  # of an open question
NUMBER_WORDS = {word for number in range(201) for word in re.split(r"\W+", number_word(number))}
SHORT, MIDDLING = 11, 24  # letters of a sentence


@dataclass(frozen=True, slots=True)
class Line:
    """One prompt on a card: its sentence, how it is said, its picture as SVG, its answer.

    lang: the language it is said in.
    """

    sentence: str
    spoken: str
    picture: SafeString
    choices: str
    answer: str
    pk: int
    lang: str = ENGLISH

    @property
    def size(self) -> str:
        """Say how large it can be written on a small phone: short, middling or long."""
        length = len(self.sentence)
        return "short" if length <= SHORT else "middling" if length <= MIDDLING else "long"

    @property
    def spoken_apart(self) -> bool:
        """Whether it is said in other words than it is written in, numbers apart."""
        return _plain_words(self.spoken) != _plain_words(self.sentence)

    @classmethod
    def of(cls, row: TaskPrompt, language: str = ENGLISH) -> "Line":
        """Read the stored prompt *row* as one line of a card, said in *language* if it can be."""
        prompt = row.prompt
        spoken, lang = spoken_in(prompt, language)
        # The picture is drawn by our own code, which escapes the words in it.
        picture = SafeString(prompt.picture.svg() if prompt.picture else "")
        named = all(f" {choice} " in _spaced(prompt.sentence) for choice in prompt.choices)
        choices = "" if named else _(" or ").join(prompt.choices) + "?"
        answer = answer_words(prompt)
        return cls(prompt.sentence, spoken, picture, choices, answer, row.pk, lang)


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a card. key names it within the page."""

    key: str
    title: str
    practises: str
    words: str
    lines: list[Line]
    fetch: str
    say: str
    right: str
    cautions: list[tuple[str, str]]
    number_words: list[tuple[int, str]] = field(default_factory=list)

    @property
    def is_at_home(self) -> bool:
        """Whether it is the part that is tried with things at home."""
        return self.key == "try-at-home"

    @classmethod
    def of(cls, task: Task, language: str = ENGLISH) -> "Part":
        """Read *task*, its prompts fetched, as one part of a card for a reader of *language*."""
        rows = list(task.prompts.all())
        kind = KINDS[task.kind]
        title = str(task.get_part_display())
        return cls(
            key=task.part.replace("_", "-"),
            title=title[:1].upper() + title[1:],
            practises=kind.practises,
            words=task.words,
            lines=[Line.of(row, language) for row in rows],
            fetch=task.fetch,
            say=task.say,
            right=kind.right,
            cautions=cautions(f"{task.words} {task.fetch} {task.say}", task.caution),
            number_words=number_words([row.prompt for row in rows], language),
        )


@dataclass(frozen=True, slots=True)
class Card:
    """What one child is set for one day."""

    date: dt.date
    focus: str
    note: str
    parts: list[Part]
    language: str = ENGLISH
    always: str = ALWAYS

    @property
    def language_name(self) -> str:
        """Give what the family's language calls itself."""
        return own_name(self.language)

    @property
    def day(self) -> str:
        """Say which day it is for, and what that day is about."""
        day = date_format(self.date, "l j F")
        return f"{day}: {self.focus}" if self.focus else day


def make_card(plan: DayPlan, tasks: Iterable[Task], language: str = ENGLISH) -> Card:
    """Put the card of *plan* together from those of its tasks that are for the reader.

    language: the reader's, such as pl or en-gb; what has no words in it stays English.
    """
    base = base_of(language)
    parts = [Part.of(task, base) for task in sorted(tasks, key=lambda task: task.position)]
    return Card(plan.date, plan.focus, plan.note, parts, base)


def _spaced(text: str) -> str:
    """Set every word of *text* between spaces, without punctuation."""
    words = re.sub(r"[\s,.:;?!]+", " ", text).strip()
    return f" {words} "


def _plain_words(text: str) -> set[str]:
    """Give the words of *text* that are no numbers."""
    words = re.findall(r"[^\W\d_]+", text.casefold())
    return set(words) - NUMBER_WORDS


def answer_words(prompt: Prompt) -> str:
    """Write the right answer for the adult; of an open question, a few of them."""
    shown = [filled_in(prompt, answer) for answer in prompt.right_answers[:SHOWN_ANSWERS]]
    if len(prompt.right_answers) > SHOWN_ANSWERS:
        return _("%(answers)s or another way") % {"answers": ", ".join(shown)}
    return _(" or ").join(shown)


def filled_in(prompt: Prompt, answer: object) -> str:
    """Write one answer, filled into the sentence where it has as many boxes as numbers."""
    several = answer if isinstance(answer, tuple) else (answer,)
    if prompt.sentence.count("□") != len(several):
        return ", ".join(map(str, several))
    filled = prompt.sentence
    for number in several:
        filled = filled.replace("□", str(number), 1)
    return filled

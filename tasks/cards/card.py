"""The card of a day as a family reads it: parts with pictures, words, cautions and answers."""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.utils.formats import date_format
from django.utils.safestring import SafeString
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from tasks.cards.languages import (
    ENGLISH,
    Said,
    answer_in,
    base_of,
    number_words,
    numbers_in_order,
    own_name,
    phrase_in,
    said_in,
    words_of_numbers,
)
from tasks.cards.safety import ALWAYS, cautions
from tasks.cards.wording import Wording, wording_in
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import Answer, Prompt, kind_kept

SHOWN_ANSWERS = 3  # of an open question
SHORT, MIDDLING = 11, 24  # letters of a sentence


def drawn(prompt: Prompt, said: Said) -> SafeString:
    """Return the picture of *prompt* as SVG, told as in *said*; empty where it has none."""
    # It is drawn by our own code, which escapes the words in it.
    return SafeString(prompt.picture.svg(said.picture) if prompt.picture else "")


@dataclass(frozen=True, slots=True)
class Line:
    """One prompt on a card: its sentence, how it is said, its picture as SVG, its answer.

    lang: the language all that is in. direction: which way the sentence runs.
    """

    sentence: str
    spoken: str
    picture: SafeString
    choices: str
    answer: str
    pk: int
    lang: str = ENGLISH
    direction: str = "ltr"

    @property
    def size(self) -> str:
        """Say how large it can be written on a small phone: short, middling or long."""
        length = len(self.sentence)
        return "short" if length <= SHORT else "middling" if length <= MIDDLING else "long"

    @property
    def spoken_apart(self) -> bool:
        """Whether it is said in other words than it is written in, numbers apart."""
        return self._plain_words(self.spoken) != self._plain_words(self.sentence)

    @property
    def other_lang(self) -> str:
        """Return the language it is in where that is not the page's."""
        return unlike_page(self.lang)

    def _plain_words(self, text: str) -> set[str]:
        """Return the words of *text* that are no numbers."""
        words = re.findall(r"[^\W\d_]+", text.casefold())
        return set(words) - words_of_numbers(self.lang)

    @classmethod
    def of(cls, row: TaskPrompt, language: str = ENGLISH) -> "Line":
        """Read the stored prompt *row* as one line of a card, in *language* if it can be said."""
        prompt = row.prompt
        said = said_in(prompt, language)
        named = all(f" {choice} " in _spaced(said.sentence) for choice in said.choices)
        choices = "" if named else _(" or ").join(said.choices) + _("?")
        answer = answer_words(prompt, said)
        return cls(
            said.sentence,
            said.spoken,
            drawn(prompt, said),
            choices,
            answer,
            row.pk,
            said.lang,
            said.direction,
        )


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a card. key names it within the page.

    other_langs: of its words, those that are in another language than the page, and which.
    """

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
    other_langs: dict[str, str] = field(default_factory=dict)
    kind: str = ""

    @property
    def is_at_home(self) -> bool:
        """Whether it is the part that is tried with things at home."""
        return self.key == "try-at-home"

    @classmethod
    def of(cls, task: Task, language: str = ENGLISH) -> "Part":
        """Read *task*, its prompts fetched, as one part of a card for a reader of *language*."""
        rows = list(task.prompts.all())
        kind = kind_kept(task.kind)
        title = str(task.get_part_display())
        wording, langs = wording_in(task, language)
        practises, langs["practises"] = phrase_in(kind.practises, language)
        right, langs["right"] = phrase_in(kind.right, language)
        return cls(
            key=task.part.replace("_", "-"),
            title=title[:1].upper() + title[1:],
            practises=practises,
            words=wording.words,
            lines=[Line.of(row, language) for row in rows],
            fetch=wording.fetch,
            say=wording.say,
            right=right,
            cautions=_cautions(task, wording),
            number_words=number_words([row.prompt for row in rows], language),
            other_langs={name: unlike_page(lang) for name, lang in langs.items()},
            kind=task.kind,
        )


def unlike_page(lang: str) -> str:
    """Return *lang* unless it is the language of the page."""
    return "" if lang == base_of(get_language() or ENGLISH) else lang


def _cautions(task: Task, wording: Wording) -> list[tuple[str, str]]:
    """Give the cautions of *task*: what calls for them is read off its words as they are kept."""
    due = cautions(f"{task.words} {task.fetch} {task.say}", task.caution)
    return [(icon, wording.caution if icon == "caution" else sentence) for icon, sentence in due]


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
        """Return what the family's language calls itself."""
        return own_name(self.language)

    @property
    def note_lang(self) -> str:
        """Return the language of the teacher's note where it is not the page's."""
        return unlike_page(ENGLISH)

    @property
    def day(self) -> str:
        """Say which day it is for, and what that day is about."""
        day = date_format(self.date, "l j E")
        return f"{day}: {focus_in(self.focus, self.language)}" if self.focus else day


def make_card(plan: DayPlan, tasks: Iterable[Task], language: str = ENGLISH) -> Card:
    """Put the card of *plan* together from those of its tasks that are for the reader.

    language: the reader's, such as pl or en-gb; what has no words in it stays English.
    """
    base = base_of(language)
    parts = [Part.of(task, base) for task in sorted(tasks, key=lambda task: task.position)]
    return Card(plan.date, plan.focus, plan.note, parts, base)


def focus_in(focus: str, language: str) -> str:
    """Give what a day is about: the name of a kind in *language*, a teacher's words as they are."""
    return phrase_in(focus, base_of(language))[0]


def _spaced(text: str) -> str:
    """Set every word of *text* between spaces, without punctuation."""
    words = re.sub(r"[\s,.:;?!]+", " ", text).strip()
    return f" {words} "


def answer_words(prompt: Prompt, said: Said) -> str:
    """Write the right answer for the adult; of an open question, a few; "" if none is known."""
    if not prompt.can_be_marked:
        return ""
    shown = [
        filled_in(said.sentence, answer, said.lang)
        for answer in prompt.right_answers[:SHOWN_ANSWERS]
    ]
    if len(prompt.right_answers) > SHOWN_ANSWERS:
        return _("%(answers)s or another way") % {"answers": ", ".join(shown)}
    return _(" or ").join(shown)


def filled_in(sentence: str, answer: Answer, language: str = ENGLISH) -> str:
    """Write one answer, filled into *sentence* where it has as many boxes as numbers."""
    answer = answer_in(answer, language)
    several = answer if isinstance(answer, tuple) else (answer,)
    if sentence.count("□") != len(several):
        return numbers_in_order(several, language)
    for number in several:
        sentence = sentence.replace("□", str(number), 1)
    return sentence

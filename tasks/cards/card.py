"""The card of a day as a family reads it: parts with pictures, words, cautions and answers."""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from tasks.cards.languages import (
    ENGLISH,
    Said,
    answer_in,
    base_of,
    marked_in,
    number_words,
    numbers_in_order,
    own_name,
    phrase_in,
    said_in,
    unlike_page,
    words_of_numbers,
)
from tasks.cards.ready import Caution, Ready, to_fetch, to_heed
from tasks.cards.safety import ALWAYS, due
from tasks.cards.wording import ToShow, Wording, to_show, wording_in
from tasks.minutes import minutes_of
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

    lang: the language all that is in. direction: which way the sentence runs. is_own: the teacher
    wrote it herself.
    """

    sentence: str
    spoken: str
    picture: SafeString
    choices: str
    answer: str
    pk: int
    lang: str = ENGLISH
    direction: str = "ltr"
    is_own: bool = False

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
            prompt.is_own,
        )


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a card. key names it within the page.

    other_langs: of its words, those that are in another language than the page, and which.
    show: the one thing to show of it.
    more: it comes after what is enough for the day. together: there is nothing to type.
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
    show: ToShow
    number_words: list[tuple[int, str]] = field(default_factory=list)
    other_langs: dict[str, str] = field(default_factory=dict)
    kind: str = ""
    more: bool = False
    together: bool = False

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
            cautions=_cautions(task, wording, language),
            show=to_show(task.kind, [row.prompt for row in rows], language),
            number_words=number_words([row.prompt for row in rows], language),
            other_langs={name: unlike_page(lang) for name, lang in langs.items()},
            kind=task.kind,
            more=task.is_more,
            together=task.is_together,
        )


def _cautions(task: Task, wording: Wording, language: str) -> list[tuple[str, str]]:
    """Give the cautions of *task*, each as (icon name, sentence), the teacher's own first."""
    own = [("caution", wording.caution)] if wording.caution else []
    return own + [(each.icon, phrase_in(each.order, language)[0]) for each in due(task)]


@dataclass(frozen=True, slots=True)
class Card:
    """What one child is set for one day.

    minutes: about how long it takes. fetch: what to have ready, each thing once; those with `more`
    are for the parts after what is enough. safe: the cautions of the day, each once, what the
    things call for first and the one for every day last.
    """

    date: dt.date
    focus: str
    note: str
    parts: list[Part]
    language: str = ENGLISH
    always: str = ALWAYS
    minutes: int = 1
    fetch: list[Ready] = field(default_factory=list)
    safe: list[Caution] = field(default_factory=list)

    @property
    def picture(self) -> SafeString:
        """Return the first picture of what is asked for; empty where there is none."""
        asked = sorted(self.parts, key=lambda part: part.together or part.more)
        pictures = (line.picture for part in asked for line in part.lines if line.picture)
        return next(pictures, SafeString())

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
        """Say which day it is for, and what that day is about: a teacher's words are marked."""
        day = date_format(self.date, "l j E")
        if not self.focus:
            return day
        return format_html("{}: {}", day, marked_in(self.focus, self.language))


def make_card(plan: DayPlan, tasks: Iterable[Task], language: str = ENGLISH) -> Card:
    """Put the card of *plan* together from those of its tasks that are for the reader.

    language: the reader's, such as pl or en-gb; what has no words in it stays English.
    """
    base = base_of(language)
    tasks = sorted(tasks, key=lambda task: task.position)
    return Card(
        plan.date,
        plan.focus,
        plan.note,
        [Part.of(task, base) for task in tasks],
        base,
        minutes=minutes_of(tasks),
        fetch=to_fetch(tasks, base),
        safe=to_heed(tasks, base),
    )


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

"""What a family has ready for the whole day, and what it heeds: each thing once."""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from tasks.cards.languages import phrase_in, unlike_page
from tasks.cards.safety import ALWAYS, due
from tasks.cards.wording import wording_in
from tasks.models import Task

SENTENCE_ENDS = re.compile(r"(?<=[.!?؟۔])\s+")
ENGLISH_OR = ", or "


@dataclass(frozen=True, slots=True)
class Ready:
    """One thing to have ready, or several of which one will do.

    other_lang: its language where that is not the page's. more: only what comes after enough
    needs it.
    """

    words: str
    other_lang: str
    more: bool


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing to heed. icon: the name of its picture. other_lang: as of Ready."""

    icon: str
    words: str
    other_lang: str = ""


def to_fetch(tasks: Iterable[Task], language: str) -> list[Ready]:
    """Return what *tasks*, in the order of their day, need from the kitchen, for *language*.

    A part that goes with something already named needs nothing more.
    """
    said: set[str] = set()
    found = []
    for task in tasks:
        wording, langs = wording_in(task, language)
        ideas = re.split(f"{re.escape(ENGLISH_OR)}|{re.escape(_(', or '))}", wording.fetch)
        fresh = [idea for idea in ideas if idea and idea.casefold() not in said]
        if fresh and len(fresh) == len(ideas):
            joined = _(", or ") if not unlike_page(langs["fetch"]) else ENGLISH_OR
            found.append(Ready(joined.join(fresh), unlike_page(langs["fetch"]), task.is_more))
        said.update(idea.casefold() for idea in ideas)
    return found


def to_heed(tasks: Iterable[Task], language: str) -> list[Caution]:
    """Return the cautions of *tasks* for *language*: a teacher's own, then those of the things.

    Of a teacher's own, what fewer parts call for comes first; of the things, the gravest. Last of
    all comes what holds on every day.
    """
    tasks = list(tasks)
    own: list[Caution] = []
    for task in tasks:
        wording, langs = wording_in(task, language)
        own += [
            Caution("caution", sentence, unlike_page(langs["caution"]))
            for sentence in dict.fromkeys(SENTENCE_ENDS.split(wording.caution))
            if sentence
        ]
    often = Counter(own)
    own.sort(key=lambda each: often[each])
    told = [(each.icon, *phrase_in(each.order, language)) for each in due(*tasks)]
    called = [Caution(icon, words, unlike_page(lang)) for icon, words, lang in told]
    return list(dict.fromkeys([*own, *called, Caution("caution", str(ALWAYS))]))

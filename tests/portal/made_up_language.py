"""A made-up language in which every translated word stands in brackets, to see what does not."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from django.utils import translation
from django.utils.dates import MONTHS_ALT, WEEKDAYS

from portal.translation.family_strings import family_strings
from tasks.numberwork.family_phrases import family_phrases
from tasks.numberwork.words import ENGLISH, LANGUAGES

MADE_UP = "eo"  # the framework knows its code; the words are ours
_INNERMOST = re.compile(r"⟦[^⟦⟧]*⟧")
_HALF = re.compile("^[^⟦]*⟧|⟦[^⟧]*$")
_LETTERS = re.compile(r"[^\W\d_]{2,}")
SEEN_ATTRIBUTES = {"aria-label", "alt", "title", "placeholder"}
EMPTY = {"meta", "link", "input", "img", "br", "hr", "use", "path", "source", "wbr"}


def bracketed(text: str) -> str:
    """Say *text* in the made-up language."""
    return f"⟦{text}⟧"


@contextmanager
def spoken_here(settings, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Offer the made-up language, in pages and in number work, for a while."""
    settings.LANGUAGES = [*settings.LANGUAGES, (MADE_UP, "Made up")]
    with translation.override(None):
        days_and_months = {str(name) for name in (*WEEKDAYS.values(), *MONTHS_ALT.values())}
    strings = family_strings()
    known = {text.text for text in strings if not text.context} | days_and_months
    in_context = {(text.context, text.text) for text in strings if text.context}
    plurals = {(text.text, text.plural) for text in strings if text.plural}
    functions = translation._trans
    real = {name: getattr(functions, name) for name in ("gettext", "ngettext", "pgettext")}

    def gettext(message: str) -> str:
        there = str(message) in known and translation.get_language() == MADE_UP
        return bracketed(message) if there else real["gettext"](message)

    def ngettext(one: str, many: str, number: int) -> str:
        if (one, many) in plurals and translation.get_language() == MADE_UP:
            return bracketed(one if number == 1 else many)
        return real["ngettext"](one, many, number)

    def pgettext(context: str, message: str) -> str:
        there = context == "alt. month" or (context, str(message)) in in_context
        if there and translation.get_language() == MADE_UP:
            return bracketed(message)
        return real["pgettext"](context, message)

    monkeypatch.setattr(functions, "gettext", gettext)
    monkeypatch.setattr(functions, "ngettext", ngettext)
    monkeypatch.setattr(functions, "pgettext", pgettext)
    table = replace(
        ENGLISH,
        language=MADE_UP,
        written={key: bracketed(text) for key, text in ENGLISH.written.items()},
        spoken={key: bracketed(text) for key, text in ENGLISH.spoken.items()},
        alts={key: bracketed(text) for key, text in ENGLISH.alts.items()},
        phrases={text: bracketed(text) for text in family_phrases()},
    )
    monkeypatch.setitem(LANGUAGES, MADE_UP, table)
    yield


class Reader(HTMLParser):
    """Gathers all that a person reads or hears on a page, besides what is said to be English."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        unread = tag in ("script", "style") or given.get("lang", MADE_UP) != MADE_UP
        unread = unread or bool(self.open and self.open[-1][1])
        if not unread:
            self.found += [
                value
                for name, value in given.items()
                if name in SEEN_ATTRIBUTES or (name.startswith("data-") and " " in value)
            ]
        if tag not in EMPTY:
            self.open.append((tag, unread))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in EMPTY:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        while self.open:
            name, _unread = self.open.pop()
            if name == tag:
                return

    def handle_data(self, data: str) -> None:
        if not (self.open and self.open[-1][1]):
            self.found.append(data)


def untranslated(html: str, names: set[str]) -> list[str]:
    """List what stands on a page outside brackets, but for *names*: of people, schools, things."""
    reader = Reader()
    reader.feed(html)
    left = [outside(text) for text in reader.found]
    for name in sorted(names, key=len, reverse=True):
        left = [text.replace(name, " ") for text in left]
    return [text.strip() for text in left if _LETTERS.search(text)]


def outside(text: str) -> str:
    """Take everything in brackets out of *text*; of a sentence that a page parts, either half."""
    while _INNERMOST.search(text):
        text = _INNERMOST.sub(" ", text)
    return _HALF.sub(" ", text)

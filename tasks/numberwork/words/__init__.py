"""How prompts are put into words, language by language."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tasks.numberwork.prompt import Prompt
from tasks.numberwork.words import en
from tasks.numberwork.words.en_pictures import ALTS
from tasks.numberwork.words.files import listed_tables
from tasks.numberwork.words.numbers import number_word, say_otherwise
from tasks.numberwork.words.table import Table

ENGLISH = Table(
    language="en",
    written=en.WRITTEN,
    spoken=en.SPOKEN,
    alts=ALTS,
    count=en.counted,
    plural=lambda noun, case: en.plural(noun),
    gap=en.GAP,
    articles=en.ARTICLES,
    same_meaning=en.SAME_MEANING,
)
LANGUAGES: dict[str, Table] = {"en": ENGLISH}

BOX = "□"
_SENTENCE_START = re.compile(r"(^|[.?!] )([^\W\d_])")
# A run of numbers, signs and boxes: it is read from left to right in every language.
_NUMBER_RUN = re.compile(r"(?:÷ |[\d□][\d□\s+−×÷=<>→,،]*)[\d□]")
FROM_LEFT, ISOLATE_ENDS = "\u2066", "\u2069"


def add_language(table: Table) -> None:
    """Let prompts be said and written in the language of *table*."""
    LANGUAGES[table.language] = table
    say_otherwise(table.language, table.number_words)


for _table in listed_tables().values():
    add_language(_table)


class Number:
    """A number inside a template: {0} is the number, {0:spoon} counts spoons with it.

    {0:things} counts the first of the things the prompt is about.
    """

    __slots__ = ("_language", "_number", "_said", "_things")

    def __init__(self, number: int, said: str, things: tuple[str, ...], language: str) -> None:
        self._number = number
        self._said = said
        self._things = things
        self._language = language

    def __format__(self, spec: str) -> str:
        if not spec:
            return self._said
        if spec == "word":
            return number_word(self._number, self._language)
        noun = spec.replace("things", self._things[0]) if self._things else spec
        return table_of(self._language).count(self._number, self._said, noun)


class Several:
    """Several of the things of a story: {many} names them, {many:gen} in the case gen."""

    __slots__ = ("_table", "_thing")

    def __init__(self, thing: str, table: Table) -> None:
        self._thing = thing
        self._table = table

    def __format__(self, spec: str) -> str:
        return self._table.plural(self._thing, spec)


def speak(prompt: Prompt, language: str = "en") -> str:
    """Say a prompt as people say it: number words, and signs in words.

    Raises ValueError for a language without a table.
    """
    return said(prompt.kind, prompt.form, prompt.numbers, prompt.things, language)


def write(prompt: Prompt, language: str = "en") -> str:
    """Write a prompt with numerals, signs and a box. Raises ValueError as `speak` does."""
    return written(prompt.kind, prompt.form, prompt.numbers, prompt.things, language)


def said(
    kind: str, form: str, numbers: tuple[int, ...], things: tuple[str, ...], language: str = "en"
) -> str:
    """Say a question that is not a prompt yet."""
    table = table_of(language)
    template = table.spoken[f"{kind}/{form}"]
    heard = things[:-1] if things[-1:] == (BOX,) else things
    named = tuple(table.gap if thing == BOX else thing for thing in heard)
    numerals = [number_word(number, language) for number in numbers]
    text = _filled(template, numbers, numerals, named, language)
    return _SENTENCE_START.sub(lambda start: start[1] + start[2].upper(), text)


def written(
    kind: str, form: str, numbers: tuple[int, ...], things: tuple[str, ...], language: str = "en"
) -> str:
    """Write a question that is not a prompt yet."""
    table = table_of(language)
    template = table.written[f"{kind}/{form}"]
    text = _filled(template, numbers, [str(number) for number in numbers], things, language)
    if ". " in text:
        text = _SENTENCE_START.sub(lambda start: start[1] + start[2].upper(), text)
    return from_left_to_right(text) if table.right_to_left else text


def from_left_to_right(text: str) -> str:
    """Keep each run of numbers and signs in *text* from left to right among other letters."""
    return _NUMBER_RUN.sub(lambda run: f"{FROM_LEFT}{run[0]}{ISOLATE_ENDS}", text)


def phrase(text: str, language: str = "en") -> str:
    """Return an English phrase of a card in a language.

    Raises ValueError for a language without a table, KeyError where the table lacks the phrase.
    """
    table = table_of(language)
    words = table.phrase(text)
    return from_left_to_right(words) if table.right_to_left else words


def table_of(language: str) -> Table:
    """Return the words of a language. Raises ValueError naming the languages there are."""
    if language not in LANGUAGES:
        raise ValueError(f"language must be one of {', '.join(LANGUAGES)}, not {language!r}")
    return LANGUAGES[language]


def _filled(
    template: str,
    numbers: tuple[int, ...],
    as_said: Sequence[str],
    things: tuple[str, ...],
    language: str,
) -> str:
    """Fill a template with numbers as they are said (or written) and with things."""
    table = table_of(language)
    pairs = zip(numbers, as_said, strict=True)
    return template.format(
        *(Number(number, said, things, language) for number, said in pairs),
        all=table.comma.join(as_said),
        row=_row(things, table) if "{row" in template else "",
        many=Several(things[0], table) if things else "",
        place=table.phrase(things[1]) if len(things) > 1 and "{place" in template else "",
    )


def _row(things: tuple[str, ...], table: Table) -> str:
    """List the things of a row; the box, and what is said for it, stay as they are."""
    own = (BOX, table.gap)
    return table.comma.join(each if each in own else table.phrase(each) for each in things)

"""How prompts are put into words, language by language."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import ModuleType
from typing import cast

from tasks.numberwork.prompt import Prompt
from tasks.numberwork.words import en
from tasks.numberwork.words.numbers import number_word

LANGUAGES: Mapping[str, ModuleType] = {"en": en}

BOX = "□"
_SENTENCE_START = re.compile(r"(^|[.?!] )([a-z])")


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
        return cast(str, table_of(self._language).counted(self._number, self._said, noun))


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
    template = table.SPOKEN[f"{kind}/{form}"]
    heard = things[:-1] if things[-1:] == (BOX,) else things
    named = tuple(table.GAP if thing == BOX else thing for thing in heard)
    numerals = [number_word(number, language) for number in numbers]
    text = _filled(template, numbers, numerals, named, language)
    return _SENTENCE_START.sub(lambda start: start[1] + start[2].upper(), text)


def written(
    kind: str, form: str, numbers: tuple[int, ...], things: tuple[str, ...], language: str = "en"
) -> str:
    """Write a question that is not a prompt yet."""
    template = table_of(language).WRITTEN[f"{kind}/{form}"]
    text = _filled(template, numbers, [str(number) for number in numbers], things, language)
    return (
        _SENTENCE_START.sub(lambda start: start[1] + start[2].upper(), text)
        if ". " in text
        else text
    )


def table_of(language: str) -> ModuleType:
    """Give the words of a language. Raises ValueError naming the languages there are."""
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
    pairs = zip(numbers, as_said, strict=True)
    return template.format(
        *(Number(number, said, things, language) for number, said in pairs),
        all=", ".join(as_said) if "{all}" in template else "",
        row=", ".join(things),
        many=table_of(language).plural(things[0]) if things else "",
        place=things[1] if len(things) > 1 else "",
    )

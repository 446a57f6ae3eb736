"""How prompts are put into words, language by language."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import ModuleType
from typing import cast

from tasks.numberwork.prompt import Prompt
from tasks.numberwork.words import en
from tasks.numberwork.words.numbers import number_word

LANGUAGES: Mapping[str, ModuleType] = {"en": en}

_SENTENCE_START = re.compile(r"(^|[.?!:] )([a-z])")


class Number:
    """A number inside a template: {0} is the number, {0:spoon} counts spoons with it.

    {0:things} counts the first of the things the prompt is about.
    """

    __slots__ = ("_number", "_said", "_table", "_things")

    def __init__(self, number: int, said: str, things: tuple[str, ...], table: ModuleType) -> None:
        self._number = number
        self._said = said
        self._things = things
        self._table = table

    def __format__(self, spec: str) -> str:
        if not spec:
            return self._said
        noun = self._things[0] if spec == "things" else spec
        return cast(str, self._table.counted(self._number, self._said, noun))


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
    text = _filled(table, template, numbers, things, lambda number: number_word(number, language))
    return _SENTENCE_START.sub(lambda start: start[1] + start[2].upper(), text)


def written(
    kind: str, form: str, numbers: tuple[int, ...], things: tuple[str, ...], language: str = "en"
) -> str:
    """Write a question that is not a prompt yet."""
    table = table_of(language)
    text = _filled(table, table.WRITTEN[f"{kind}/{form}"], numbers, things, str)
    return text[0].upper() + text[1:] if text.endswith((".", "?")) else text


def table_of(language: str) -> ModuleType:
    """Give the words of a language. Raises ValueError naming the languages there are."""
    if language not in LANGUAGES:
        raise ValueError(f"language must be one of {', '.join(LANGUAGES)}, not {language!r}")
    return LANGUAGES[language]


def _filled(
    table: ModuleType,
    template: str,
    numbers: tuple[int, ...],
    things: tuple[str, ...],
    say: Callable[[int], str],
) -> str:
    """Fill a template: {0} {1} … numbers, {all} all of them, {things[0]} … names."""
    names = tuple(table.NAMES.get(thing, thing) for thing in things)
    listed = ", ".join(say(number) for number in numbers) if "{all" in template else ""
    counted = (Number(number, say(number), things, table) for number in numbers)
    return template.format(*counted, all=listed, things=names)

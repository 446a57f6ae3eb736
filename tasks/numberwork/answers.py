"""Reading what a family typed, and telling whether it is right."""

from __future__ import annotations

import re

from tasks.numberwork.prompt import Answer, Prompt
from tasks.numberwork.words import table_of
from tasks.numberwork.words.numbers import squeezed, word_values

_TEN_TEN = re.compile(r"([2-9]0)[\s-]*10")
_NUMBERS = re.compile(r"\d+")


def marks(prompt: Prompt, text: str, language: str = "en") -> bool:
    """Tell whether a typed answer is right.

    Numerals, number words, the whole sentence filled in, and every right answer of an open
    question count; capitals, spaces and full stops do not matter.
    """
    return read_answer(prompt, text, language) in prompt.right_answers


def read_answer(prompt: Prompt, text: str, language: str = "en") -> Answer | None:
    """Read a typed answer as a number, a word or a tuple, as the prompt's own answer is.

    None for an empty answer. Text that is no such answer comes back as it is, in lower case.
    """
    text = " ".join(_without_sentence(prompt, text).split()).strip(
        " .!;:=" if _wants_number(prompt) else " .!;:"
    )
    if not text:
        return None
    if isinstance(prompt.answer, tuple):
        return _several(text, language) or text.casefold()
    if isinstance(prompt.answer, str):
        return _choice(prompt, text, language)
    return _number(text, language)


def _wants_number(prompt: Prompt) -> bool:
    """Tell whether the answer is a number."""
    return isinstance(prompt.answer, int)


def _without_sentence(prompt: Prompt, text: str) -> str:
    """Give what stands in the box, where the whole sentence was typed out."""
    if prompt.sentence.count("□") != 1:
        return text
    before, after = (re.sub(r"\s+", "", part) for part in prompt.sentence.split("□"))
    packed = re.sub(r"\s+", "", text.replace("-", "−") if "−" in prompt.sentence else text)
    folded = packed.casefold()
    whole = len(folded) > len(before) + len(after)
    if whole and folded.startswith(before.casefold()) and folded.endswith(after.casefold()):
        return packed[len(before) : len(packed) - len(after)]
    return text


def _number(text: str, language: str) -> Answer:
    """Read a numeral of any script, a number word, or "twenty-ten"."""
    if text.isdecimal():
        return int(text)
    found = _TEN_TEN.fullmatch(text)
    tens = squeezed(text).removesuffix("ten")
    values = word_values(language)
    if found or (tens != squeezed(text) and values.get(tens, 0) in range(20, 100, 10)):
        by_value = {value: word for word, value in values.items()}
        return f"{by_value[int(found[1])] if found else tens}-ten"
    return values.get(squeezed(text), text.casefold())


def _several(text: str, language: str) -> tuple[int, ...]:
    """Read several numbers, written with numerals or words; empty if there are none."""
    if numerals := _NUMBERS.findall(text):
        return tuple(map(int, numerals))
    values = word_values(language)
    words = re.split(r"\s*(?:[,;+<>]|\s)\s*", text.replace("−", " "))
    found = [values.get(squeezed(word)) for word in words if squeezed(word)]
    return () if None in found else tuple(value for value in found if value is not None)


def _choice(prompt: Prompt, text: str, language: str) -> str:
    """Read a word, sign or letter as one of the prompt's choices where it is one."""
    folded = text.casefold()
    meaning = table_of(language).SAME_MEANING.get(folded, folded)
    for choice in prompt.choices:
        if choice.casefold() in (folded, meaning):
            return choice
    return str(folded)

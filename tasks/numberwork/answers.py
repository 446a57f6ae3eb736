"""Reading what a family typed, and telling whether it is right."""

from __future__ import annotations

import re

from tasks.numberwork.prompt import Answer, Prompt
from tasks.numberwork.words import FROM_LEFT, ISOLATE_ENDS, LANGUAGES, table_of, write
from tasks.numberwork.words.numbers import number_word, squeezed, word_values

_TEN_TEN = re.compile(r"([2-9]0)[\s-]*10")
LONGEST = 9  # digits of a number somebody may mean
_NUMBERS = re.compile(r"\d+")


def marks(prompt: Prompt, text: str, language: str = "en") -> bool:
    """Tell whether a typed answer is right.

    Numerals, number words, the whole sentence filled in, and every right answer of an open
    question count; capitals, spaces and full stops do not matter.
    """
    return read_answer(prompt, text, language) in prompt.right_answers


def read_in_any(prompt: Prompt, text: str) -> Answer | None:
    """Read a typed answer in whichever of the languages it makes sense, English before others.

    A family types in its own language, and nothing but the answer tells which.
    """
    first = read_answer(prompt, text)
    for language in LANGUAGES if _is_unread(prompt, first) else ():
        found = read_answer(prompt, text, language)
        if not _is_unread(prompt, found):
            return found
    return first


def _is_unread(prompt: Prompt, answer: Answer | None) -> bool:
    """Tell whether *answer* is words that mean no answer to *prompt*."""
    return isinstance(answer, str) and answer not in prompt.choices


def read_answer(prompt: Prompt, text: str, language: str = "en") -> Answer | None:
    """Read a typed answer as a number, a word or a tuple, as the prompt's own answer is.

    None for an empty answer. Text that is no such answer comes back as it is, in lower case.
    """
    ends = " .!;:=" if isinstance(prompt.answer, int) else " .!;:"
    text = _without_sentence(_sentence(prompt, language), _without_marks(text))
    text = " ".join(text.split()).strip(ends)
    if not text:
        return None
    if isinstance(prompt.answer, tuple):
        return _several(text, language) or text.casefold()
    if isinstance(prompt.answer, str):
        return _choice(prompt, text, language)
    return _number(text, language)


def _sentence(prompt: Prompt, language: str) -> str:
    """Write a prompt in a language; as it was set where its form is no longer asked."""
    if language == "en":
        return prompt.sentence
    try:
        return _without_marks(write(prompt, language))
    except KeyError:
        return prompt.sentence


def _without_marks(text: str) -> str:
    """Leave out the marks that only set which way numbers run."""
    return text.replace(FROM_LEFT, "").replace(ISOLATE_ENDS, "")


def _without_sentence(sentence: str, text: str) -> str:
    """Return what stands in the box, where the whole sentence was typed out."""
    if sentence.count("□") != 1:
        return text
    before, after = (re.sub(r"\s+", "", part) for part in sentence.split("□"))
    for typed, sign in (("-", "−"), ("/", "÷")):
        text = text.replace(typed, sign) if sign in sentence else text
    packed = re.sub(r"\s+", "", text)
    folded = packed.casefold()
    whole = len(folded) > len(before) + len(after)
    if whole and folded.startswith(before.casefold()) and folded.endswith(after.casefold()):
        return packed[len(before) : len(packed) - len(after)]
    return text


def _number(text: str, language: str) -> Answer:
    """Read a numeral of any script, a number word, or "twenty-ten"."""
    values = word_values(language)
    said = squeezed(text)
    tens = said.removesuffix("ten") if said not in values else ""
    if found := _TEN_TEN.fullmatch(text):
        return f"{number_word(int(found[1]), language)}-ten"
    if values.get(tens, 0) in range(20, 100, 10):
        return f"{tens}-ten"
    if text.isdecimal() and len(text) <= LONGEST:
        return int(text)
    return values.get(said, text.casefold())


def _several(text: str, language: str) -> tuple[int, ...]:
    """Read several numbers, written with numerals or words; empty if there are none."""
    if numerals := _NUMBERS.findall(text):
        return tuple(int(numeral[:LONGEST]) for numeral in numerals)
    values = word_values(language)
    words = re.split(r"\s*(?:[,;+<>]|\s)\s*", text.replace("−", " "))
    found = [values.get(squeezed(word)) for word in words if squeezed(word)]
    return () if None in found else tuple(value for value in found if value is not None)


def _choice(prompt: Prompt, text: str, language: str) -> str:
    """Read a word, sign or letter as one of the prompt's choices where it is one."""
    table = table_of(language)
    folded = text.casefold()
    article, _, noun = folded.partition(" ")
    meant = {folded, table.same_meaning.get(folded, folded)}
    meant |= {noun} if article in table.articles else set()
    for choice in prompt.choices:
        if {choice.casefold(), _kept_word(choice, language).casefold()} & meant:
            return choice
    return folded


def _kept_word(choice: str, language: str) -> str:
    """Say a choice in a language; as it was set where the language has lost its word."""
    try:
        return choice_word(choice, language)
    except KeyError:
        return choice


def choice_word(choice: str, language: str = "en") -> str:
    """Say a choice in a language: signs and letters stay as they are.

    >>> choice_word("<"), choice_word("odd")
    ('<', 'odd')
    """
    return table_of(language).phrase(choice) if len(choice) > 1 else choice

"""What a card says in a family's own language, as far as number work has words in it."""

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from django.utils.html import format_html
from django.utils.translation import get_language, get_language_info

from tasks.numberwork import (
    Answer,
    Prompt,
    choice_word,
    describe,
    number_word,
    phrase,
    speak,
    write,
)
from tasks.numberwork.pictures import Picture
from tasks.numberwork.words import LANGUAGES, from_left_to_right
from tasks.numberwork.words.numbers import LARGEST

ENGLISH = "en"
# Not the Arabic comma, which also stands between numbers.
RIGHT_TO_LEFT_LETTERS = re.compile(r"[\u0590-\u060b\u060d-\u08ff]")


@dataclass(frozen=True, slots=True)
class Said:
    """A prompt in the words of one language: written, said, its picture told, its choices."""

    lang: str
    sentence: str
    spoken: str
    picture: str
    choices: tuple[str, ...]

    @property
    def direction(self) -> str:
        """Say which way the sentence runs: numbers and signs alone always from the left."""
        return "rtl" if RIGHT_TO_LEFT_LETTERS.search(self.sentence) else "ltr"


def base_of(language: str) -> str:
    """Return the language of a code without its region: pl for pl-pl."""
    return language.replace("_", "-").split("-")[0].lower() or ENGLISH


def page_language() -> str:
    """Return the language of the page, without its region."""
    return base_of(get_language() or ENGLISH)


def quoted_here(text: str) -> str:
    """Mark *text* as said aloud, by the marks of the page's language."""
    return LANGUAGES.get(page_language(), LANGUAGES[ENGLISH]).quoted(text)


def has_words(language: str) -> bool:
    """Tell whether all of a card can be said in *language*."""
    return language in LANGUAGES


def said_in(prompt: Prompt, language: str) -> Said:
    """Say *prompt* in *language* if it has the words; as it was set in English otherwise.

    What was set long ago may be of a form that is asked no more, and stays English too; so does
    what a teacher wrote herself. Its picture is told in *language* all the same.
    """
    alt = prompt.picture.alt if prompt.picture else ""
    english = Said(ENGLISH, prompt.sentence, prompt.spoken, alt, prompt.choices)
    if language == ENGLISH or not has_words(language):
        return english
    try:
        return Said(
            language,
            write(prompt, language),
            speak(prompt, language),
            describe(prompt.picture, language) if prompt.picture else "",
            tuple(choice_word(choice, language) for choice in prompt.choices),
        )
    except KeyError:
        return replace(english, picture=_told(prompt.picture, language))


def _told(picture: Picture | None, language: str) -> str:
    """Tell *picture* in *language*; in English where that lacks the words."""
    if picture is None:
        return ""
    try:
        return describe(picture, language)
    except KeyError:
        return picture.alt


def phrase_in(text: str, language: str) -> tuple[str, str]:
    """Return an English phrase of number work in *language*, and the language it is in."""
    if not has_words(language):
        return text, ENGLISH
    try:
        return phrase(text, language), language
    except KeyError:
        return text, ENGLISH


def unlike_page(lang: str) -> str:
    """Return *lang* unless it is the language of the page."""
    return "" if lang == page_language() else lang


def marked(text: str, lang: str) -> str:
    """Return *text*, marked where its language *lang* is not that of the page."""
    if not unlike_page(lang):
        return text
    return format_html('<span lang="{}" dir="auto">{}</span>', lang, text)


def marked_in(text: str, language: str) -> str:
    """Return a phrase of number work in *language*; a teacher's words as they are, marked."""
    return marked(*phrase_in(text, language))


def answer_in(answer: Answer, language: str) -> Answer:
    """Give an answer as it is read in *language*: a word in that language, numbers as they are."""
    if not isinstance(answer, str) or language == ENGLISH:
        return answer
    return choice_word(answer, language)


def numbers_in_order(numbers: tuple[object, ...], language: str) -> str:
    """List numbers from left to right, whichever way the words around them run."""
    text = ", ".join(map(str, numbers))
    runs_back = has_words(language) and LANGUAGES[language].right_to_left
    return from_left_to_right(text) if runs_back else text


@lru_cache(maxsize=16)
def words_of_numbers(language: str) -> frozenset[str]:
    """Return every word that belongs to the numbers of *language*."""
    said = (number_word(number, language) for number in range(LARGEST + 1))
    return frozenset(word for each in said for word in re.split(r"\W+", each))


def number_words(prompts: list[Prompt], language: str) -> list[tuple[int, str]]:
    """Return the numbers of prompts and of their answers with their words in *language*.

    For a card that stays English: nothing for English itself, for a language that all of the
    card is said in, and for one without number words.
    """
    if has_words(language):
        return []
    try:
        return [(number, number_word(number, language)) for number in _numbers(prompts)]
    except NotImplementedError:
        return []


def _numbers(prompts: list[Prompt]) -> list[int]:
    """List every number that is asked about or answered, smallest first."""
    found = {number for prompt in prompts for number in prompt.numbers}
    for prompt in prompts:
        answer = prompt.answer
        found |= set(answer) if isinstance(answer, tuple) else {answer}
    return sorted(n for n in found if isinstance(n, int) and 0 <= n <= LARGEST)


def own_name(language: str) -> str:
    """Return what a language calls itself, or its code."""
    try:
        return str(get_language_info(language)["name_local"])
    except KeyError:
        return language

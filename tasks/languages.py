"""What a card says in a family's own language, as far as number work has words in it."""

from django.utils.translation import get_language_info

from tasks.numberwork import Prompt, number_word, speak
from tasks.numberwork.words.numbers import LARGEST

ENGLISH = "en"


def base_of(language: str) -> str:
    """Give the language of a code without its region: pl for pl-pl."""
    return language.replace("_", "-").split("-")[0].lower() or ENGLISH


def spoken_in(prompt: Prompt, language: str) -> tuple[str, str]:
    """Give how a prompt is said and in which language: in *language* if it has the words."""
    if language != ENGLISH:
        try:
            return speak(prompt, language), language
        except ValueError:
            pass
    return prompt.spoken, ENGLISH


def number_words(prompts: list[Prompt], language: str) -> list[tuple[int, str]]:
    """Give the numbers of prompts and of their answers with their words in *language*.

    Nothing for English, which the card is in anyhow, and for a language without number words.
    """
    if language == ENGLISH:
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
    """Give what a language calls itself, or its code."""
    try:
        return str(get_language_info(language)["name_local"])
    except KeyError:
        return language

"""Number words, 0 to 200, through one small door."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from num2words import num2words

LARGEST = 200
# Phones type one of several signs for the same.
SAME = str.maketrans({"-": " ", "’": "'", "ʼ": "'"})
_OTHERWISE: dict[str, Mapping[int, str]] = {}


def say_otherwise(language: str, words: Mapping[int, str]) -> None:
    """Say the numbers in *words* so in *language*, whatever the library says of them."""
    _OTHERWISE[language] = words
    number_word.cache_clear()
    word_values.cache_clear()


@lru_cache(maxsize=4096)
def number_word(number: int, language: str = "en") -> str:
    """Say a whole number from 0 to 200 in words.

    Raises ValueError outside that range, NotImplementedError for a language without words.

    >>> number_word(105)
    'one hundred and five'
    """
    if not 0 <= number <= LARGEST:
        raise ValueError(f"number must be 0 to {LARGEST}, not {number}")
    own = _OTHERWISE.get(language, {}).get(number)
    return own or str(num2words(number, lang=language))


@lru_cache(maxsize=16)
def word_values(language: str = "en") -> dict[str, int]:
    """Return the number each number word stands for, joined without spaces or hyphens."""
    return {squeezed(number_word(number, language)): number for number in range(LARGEST + 1)}


def squeezed(text: str) -> str:
    """Bring number words to one spelling, so that 'Twenty one' and 'twenty-one' agree.

    >>> squeezed("One hundred and Five") == squeezed("one-hundred five")
    True
    """
    words = text.casefold().translate(SAME).split()
    return "".join(word for word in words if word != "and")

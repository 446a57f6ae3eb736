"""How hard English is to read, as a school grade."""

import re
from collections.abc import Iterable

from portal.translation.family_strings import family_strings

FEWEST_WORDS = 6  # below that, one long word decides
ENDS = (".", "?", "!", ":")
FILLED_IN = re.compile(r"%\([\w|]+\)[sd]|%[sd]|\{\w*\}|https?\S+|<[^>]+>")
# Staff alone meet these, on pages that they share with families.
FOR_STAFF = (
    "A sign-in code keeps children's work safe",
    "If you do not remember your password, the lead",
    "The sign-in code is set up: after your password",
)


def syllables(word: str) -> int:
    """Count the syllables of an English word by its groups of vowels: right for most words."""
    groups = re.findall(r"[aeiouy]+", word.lower())
    silent = len(re.findall(r"(?:[^aeiouyl]|[aeiouy]l)es?$|[^aeiouytd]ed$", word.lower()))
    return max(1, len(groups) - silent)


def grade(text: str) -> float:
    """Return the grade of *text* in American schools; grade 5 is a child of ten.

    Source: Kincaid, Fishburne, Rogers and Chissom, Derivation of new readability formulas (1975):
    0.39 × words per sentence + 11.8 × syllables per word − 15.59.
    """
    words = re.findall(r"[A-Za-z][A-Za-z'’]*", text)
    sentences = [part for part in re.split(r"[.!?:]+", text) if re.search(r"[A-Za-z]", part)]
    per_word = sum(map(syllables, words)) / len(words)
    return 0.39 * len(words) / len(sentences) + 11.8 * per_word - 15.59


def year(text: str) -> int:
    """Return the grade as a school counts it: the fifth lasts from 5.0 until 6.0."""
    return int(grade(text))


def is_sentence(text: str) -> bool:
    """Whether it ends as one does and has words enough to be measured on its own."""
    return text.rstrip().endswith(ENDS) and len(re.findall(r"[A-Za-z]+", text)) >= FEWEST_WORDS


def of_families() -> list[tuple[str, str]]:
    """Return (file, words) of everything that families read, with a short name where one goes."""
    found = []
    for each in family_strings():
        for text in (each.text, each.plural):
            if re.search("[A-Za-z]", FILLED_IN.sub("", text)) and not text.startswith(FOR_STAFF):
                found.append((each.place, FILLED_IN.sub("Ben", text).strip()))
    return found


def sentence_grades(texts: Iterable[str]) -> list[int]:
    """Return the grades, as a school counts them, of those *texts* that are sentences, in order."""
    return sorted(year(text) for text in texts if is_sentence(text))

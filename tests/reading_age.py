"""How hard English is to read, as a school grade."""

import re


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

"""How hard the English of family pages is to read, sentence by sentence and file by file.

Source: the formula of Kincaid, Fishburne, Rogers and Chissom (1975), in tests/reading_age.py. Grade
5 is a child of ten. WCAG 2.2, 3.1.5 (AAA) asks for no more than lower secondary, grades 7 to 9.
"""

from collections import defaultdict

import pytest

from tasks.numberwork import EVERY_KIND, make_prompts
from tests.reading_age import ENDS, is_sentence, of_families, year

HIGHEST = 5
A_TEXT = 20  # words
MANY = 150  # sentences: fewer would mean that they are not found
# An agreement was given to these very words, so they stay as they are.
AGREED_TO = ("Staff who do not work in the class may look at pictures that show my child",)


def as_text(pieces: list[str]) -> str:
    """Put pieces one after the other, each ended like a sentence."""
    return " ".join(each if each.endswith(ENDS) else f"{each}." for each in pieces)


def test_every_sentence_that_families_read_is_of_grade_five_or_below():
    sentences = [words for _place, words in of_families() if is_sentence(words)]
    hard = [words for words in sentences if year(words) > HIGHEST]

    assert len(sentences) > MANY
    assert [words for words in hard if not words.startswith(AGREED_TO)] == []


def test_every_file_of_family_words_is_of_grade_five_or_below_as_a_whole():
    files: dict[str, list[str]] = defaultdict(list)
    for place, words in of_families():
        files[place].append(words)
    texts = {place: as_text(pieces) for place, pieces in files.items()}
    long_enough = {place: text for place, text in texts.items() if len(text.split()) >= A_TEXT}

    assert {place for place, text in long_enough.items() if year(text) > HIGHEST} == set()
    assert year(" ".join(texts.values())) < HIGHEST


@pytest.mark.parametrize("kind", EVERY_KIND)
def test_what_a_child_is_asked_is_of_grade_five_or_below(kind: str):
    within = max(EVERY_KIND[kind].ranges)
    asked = as_text([prompt.spoken for prompt in make_prompts(kind, within, 3, 7)])
    assert year(asked) <= HIGHEST

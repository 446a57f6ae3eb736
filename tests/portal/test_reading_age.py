"""How hard the English of family pages is to read, sentence by sentence and file by file.

Source: the formula of Kincaid, Fishburne, Rogers and Chissom (1975), in tests/reading_age.py. Grade
5 is a child of ten. WCAG 2.2, 3.1.5 (AAA) asks for no more than lower secondary, grades 7 to 9.
"""

import re
from collections import defaultdict

import pytest

from portal.translation.family_strings import family_strings
from tasks.numberwork import KINDS, make_prompts
from tests.reading_age import grade

HIGHEST = 5
FEWEST_WORDS = 6  # below that, one long word decides
A_TEXT = 20  # words
MANY = 150  # sentences: fewer would mean that they are not found
ENDS = (".", "?", "!", ":")
FILLED_IN = re.compile(r"%\([\w|]+\)[sd]|%[sd]|\{\w*\}|https?\S+|<[^>]+>")
# Staff alone meet these, on pages that they share with families.
FOR_STAFF = (
    "A sign-in code keeps children's work safe",
    "If you do not remember your password, the lead",
    "The sign-in code is set up: after your password",
)
# An agreement was given to these very words, so they stay as they are.
AGREED_TO = ("Staff who do not work in the class may look at pictures that show my child",)


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


@pytest.mark.parametrize("kind", KINDS)
def test_what_a_child_is_asked_is_of_grade_five_or_below(kind: str):
    within = max(KINDS[kind].ranges)
    asked = as_text([prompt.spoken for prompt in make_prompts(kind, within, 3, 7)])
    assert year(asked) <= HIGHEST

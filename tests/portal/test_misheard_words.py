"""Words that were read as something else than what was meant do not come back.

Source: careful readings of what families read, from knowledge; to be confirmed by persons born
to the languages.
"""

import re
from collections.abc import Iterator

import polib
import pytest

from portal.translation.catalogues import catalogue_path
from tasks.numberwork import DEPTHS, KINDS, make_prompts, speak, write
from tasks.numberwork.words.files import FOLDER, read_file

# (language, what was said, what it was heard as)
MISHEARD = [
    ("ur", r"کتنے بچے", "how many children, for how many are left"),
    ("ur", r"\d بچے۔", "four children, for four are left"),
    ("ur", r"(?<!عدد )ایک سے ایک", "each better than the next, for one more than one"),
    ("ur", r"ہاں (?:کی|کرتے|نہیں کی)\b", "said yes, for consent"),
    ("ur", r"بلاو[اے]", "a summons, for an invitation"),
    ("ur", r"الرجی دیکھ", "look at the allergy, for make sure that nobody has one"),
    (
        "ur",
        r"(?<!ای میل )(?<!ویب )پت(?:ا|ے) (?:بدل|اور پاس|آپ کا|پر)",
        "a home, for an e-mail address",
    ),
    ("ur", r"دو ڈبوں میں رکھنے", "tins into tins, for tins into boxes"),
    ("cy", r"wedi'i ddal|cael ei ddal", "caught, for held from being deleted"),
    ("cy", r"[Pp]ostio|bostio|postiodd", "sent by letter, for added"),
    ("cy", r"[Aa]m faint (?:mae|ar gyfer)|^Am faint\??$", "for how much money, for how long"),
    ("cy", r"(?:ar unwaith ar y mwyaf|sawl un ar unwaith)", "straight away, for at one time"),
    ("cy", r"[Gg]wiriwch am alergedd", "a word for word check, for make sure that nobody has one"),
    (
        "cy",
        r"[Oo]edolyn sy'n (?:ei dorri|torri|defnyddio)|Mae oedolyn yn aros",
        "a fact, for an order",
    ),
    ("cy", r"[Ôô]l bys", "a parent's own fingerprint, for a place that is made unreadable"),
    ("pl", r"[Oo]dcisk", "a parent's own fingerprint, for a place that is made unreadable"),
    ("pl", r"liczymy na bateriach", "we rely on batteries, for we count with them"),
    ("pl", r"Dorosły jest blisko", "a fact, for an order"),
    ("pl", r"(?<!\w)Oceny", "school marks, for what a teacher judges"),
]
# Asked of a small number of things: what a story must not say of it.
IN_STORIES = {
    "cy": re.compile(r"\w+ yn (?:fwy|llai) gen "),  # bigger pegs, for more pegs
    "pl": re.compile(r"(?<!\w)kilka(?!\w)"),  # three to nine, where the answer is one or two
}


def said(language: str) -> Iterator[str]:
    """Return all that families read in *language*, pages and number work."""
    for entry in polib.pofile(str(catalogue_path(language))):
        yield from entry.msgstr_plural.values() if entry.msgid_plural else [entry.msgstr]
    words = read_file(FOLDER / f"{language}.json")
    for section in ("phrases", "alts", "written", "spoken"):
        yield from words[section].values()
    for name in ("one-more", "one-less"):
        for prompt in make_prompts(name, 5, 8, 1):
            yield speak(prompt, language)


@pytest.mark.parametrize(
    ("language", "words", "heard"), MISHEARD, ids=[f"{row[0]}: {row[2]}" for row in MISHEARD]
)
def test_no_sentence_is_heard_as_something_else(language: str, words: str, heard: str):
    assert [text for text in said(language) if re.search(words, text)] == [], heard


@pytest.mark.parametrize("language", IN_STORIES)
def test_a_story_is_not_heard_as_another_story(language: str):
    for within in KINDS["story-problems"].ranges:
        for depth in DEPTHS:
            for prompt in make_prompts("story-problems", within, 12, 3, depth=depth):
                for text in (speak(prompt, language), write(prompt, language)):
                    assert not IN_STORIES[language].search(text), text

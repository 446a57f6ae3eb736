"""What families read on safety, deletion and consent: agreed word by word, and told back.

safety_words/ has one file a language: a list of {"english", "translation", "back"}, the cautions of
the card first. `back` is a plain translation into English, made from the translation alone by
somebody who does not look at the English. Whoever changes a translation writes a new one.
"""

import json
import re
from pathlib import Path

import pytest
from django.conf import settings
from django.utils.translation import gettext, override

from portal.translation.family_strings import Text, family_strings
from tasks.cards.safety import ALWAYS
from tasks.numberwork import phrase
from tasks.numberwork.cautions import CAUTIONS

FOLDER = Path(__file__).parent / "safety_words"
LISTED = sorted(set(dict(settings.LANGUAGES)) - {"en-gb"})
FILES = sorted(path.stem for path in FOLDER.glob("*.json"))
DANGER = "This page is not watched. If a child is in danger call 999."
DELETING = re.compile(r"\btak(?:e|en|ing)\b.*\bback\b|\bdelete", re.IGNORECASE)
AGREEING = re.compile(r"\bagree|\byou said (?:yes|no)\b|\bsay yes\b", re.IGNORECASE)
ASKED_OF_HOMES = (
    "portal/people/families/models/consent.py",
    "portal/data_protection/consent/wording.py",
)
# What is said of it in English, what its translation then says too, and what it never says.
SENSE = (
    (r"allerg", r"allerg", r"\b(?:sure|certain) of the allerg"),
    (r"\badult", r"\b(?:adult|grown-up)", None),
    (r"\badult (?:stays|does|uses|cuts)", r"\b(?:must|only|let|has to|have to|should)\b", None),
    (r"999", r"999", None),
    (r"\btak(?:e|en|ing)\b.*\bback\b", r"", r"\b(?:restor|recover|(?:get|got) .*back)"),
    (r"\bneed not", r"", r"\bmust not\b"),
    (r"\bdelete", r"\b(?:delet|remov|eras)", None),
)


def of_things() -> list[str]:
    """List the cautions that things fetched and used call for."""
    return [caution.order for caution in CAUTIONS.values()]


def sentences() -> list[str]:
    """List the sentences that each language keeps: cautions, danger, deletion, consent."""
    with override(None):
        always = str(ALWAYS)
    kept = [text.text for text in family_strings() if must_be_kept(text)]
    return [*of_things(), always, DANGER, *dict.fromkeys(kept)]


def must_be_kept(text: Text) -> bool:
    """Tell whether *text* is about deletion or consent."""
    about = DELETING.search(text.text) or AGREEING.search(text.text)
    return bool(about) or text.place in ASKED_OF_HOMES


def as_read(english: str, language: str) -> str:
    """Return what families read for *english*."""
    if english in of_things():
        return phrase(english, language)
    with override(language):
        return gettext(english)


def entries(language: str) -> list[dict[str, str]]:
    """Read what is kept of *language*, nothing where it has no file."""
    path = FOLDER / f"{language}.json"
    return json.loads(path.read_text(encoding="utf-8")) if path.is_file() else []


KEPT = [
    pytest.param(language, one, id=f"{language}: {one['english'][:40]}")
    for language in FILES
    for one in entries(language)
]


@pytest.mark.parametrize("language", LISTED)
def test_each_language_tells_every_safety_sentence_back(language: str):
    told = [one["english"] for one in entries(language)]

    assert [english for english in sentences() if english not in told] == []
    assert sorted(told) == sorted(set(told))


def test_only_languages_that_families_read_are_kept():
    assert set(FILES) <= set(LISTED)


@pytest.mark.parametrize(("language", "one"), KEPT)
def test_what_families_read_is_what_was_told_back(language: str, one: dict[str, str]):
    assert as_read(one["english"], language) == one["translation"], (
        "The translation has changed: write `back` anew, from the new words alone."
    )


@pytest.mark.parametrize(("language", "one"), KEPT)
def test_what_is_told_back_says_what_the_english_says(language: str, one: dict[str, str]):
    back = one["back"]
    assert back.strip() and not re.search(r"[^\W\d_A-Za-z]", back), "in English letters"
    for english, says, never in SENSE:
        if re.search(english, one["english"], re.IGNORECASE):
            assert re.search(says, back, re.IGNORECASE), says
            assert not (never and re.search(never, back, re.IGNORECASE)), never


@pytest.mark.parametrize(
    ("english", "back"),
    [
        ("Take back", "Restore"),
        ("Check for food allergies first.", "Make sure of the allergy."),
        ("You need not agree to any of this.", "You must not agree to this."),
        ("An adult stays close by.", "The adult is near."),
    ],
)
def test_a_sentence_that_says_the_opposite_is_noticed(english: str, back: str):
    with pytest.raises(AssertionError):
        test_what_is_told_back_says_what_the_english_says("xx", {"english": english, "back": back})


def test_cautions_deletion_and_consent_are_all_among_the_sentences():
    listed = sentences()

    assert len(listed) == len(set(listed)) >= 60
    for part in ("allergies first", "Take back", "Yes, take it back", "need not agree", "999"):
        assert any(part in english for english in listed), part

"""Words of other languages: complete where they are listed, and counted as each language counts."""

import re
from string import Formatter

import pytest
from babel import Locale

from tasks.numberwork import (
    DEPTHS,
    EVERY_KIND,
    Prompt,
    choice_word,
    describe,
    how_many,
    make_prompts,
    phrase,
    read_answer,
    speak,
    write,
)
from tasks.numberwork.family_phrases import family_phrases
from tasks.numberwork.words import ENGLISH, FROM_LEFT, LANGUAGES, from_left_to_right
from tasks.numberwork.words.files import FOLDER, read_file, table_from
from tasks.numberwork.words.numbers import LARGEST, number_word
from tasks.numberwork.words.plurals import CATEGORIES, RULES, category
from tasks.numberwork.words.table import Nouns

FILES = {path.stem: path for path in sorted(FOLDER.glob("*.json"))}
LISTED = sorted(set(LANGUAGES) - {"en"})
SHARED_LETTERS = set("ABC")  # the labels of shapes to choose from
LATIN = re.compile(r"[A-Za-z]")
SCRIPTS = {"ar": "\u0600-\u06ff", "ur": "\u0600-\u06ff", "uk": "\u0400-\u04ff"}


@pytest.mark.parametrize("language", RULES)
def test_plural_categories_are_those_of_the_unicode_consortium(language: str):
    """Source: Unicode CLDR, as the library babel carries it."""
    rule = Locale(language).plural_form

    assert [category(language, n) for n in range(1001)] == [rule(n) for n in range(1001)]
    assert set(CATEGORIES[language]) >= {category(language, n) for n in range(1001)}


def test_there_is_a_file_of_words_for_every_other_language_of_the_portal():
    assert set(FILES) == {"ar", "cy", "pl", "ro", "uk", "ur"}
    assert all(read_file(path)["language"] == name for name, path in FILES.items())


@pytest.mark.parametrize("language", FILES)
def test_what_is_filled_names_the_numbers_and_things_that_the_english_names(language: str):
    table = table_from(read_file(FILES[language]))
    english = {"written": ENGLISH.written, "spoken": ENGLISH.spoken, "alts": ENGLISH.alts}
    for section, templates in english.items():
        for key, template in getattr(table, section).items():
            assert names(template) <= names(templates[key]), f"{section}: {key}"
            assert numbers(template) >= numbers(templates[key]), f"{section}: {key}"
            if section == "written":
                assert template.count("□") == templates[key].count("□"), key


def names(template: str) -> set[str]:
    """Return what a template is filled with."""
    return {name for _text, name, _spec, _turn in Formatter().parse(template) if name}


def numbers(template: str) -> set[str]:
    """Return which numbers a template tells, and its lists."""
    return {name for name in names(template) if name.isdecimal() or name in ("all", "row")}


def sets_of_prompts() -> list[Prompt]:
    """Return some prompts of every kind, depth and range."""
    return [
        prompt
        for kind in EVERY_KIND.values()
        for depth in DEPTHS
        for within in kind.ranges
        for prompt in make_prompts(
            kind.name, within, min(8, how_many(kind.name, within, depth)), 5, depth=depth
        )
    ]


PROMPTS = sets_of_prompts()


@pytest.mark.parametrize("language", LISTED)
def test_every_prompt_of_every_kind_is_written_said_and_drawn_in_words(language: str):
    for prompt in PROMPTS:
        texts = [write(prompt, language), speak(prompt, language)]
        texts += [choice_word(choice, language) for choice in prompt.choices]
        texts += [describe(prompt.picture, language)] if prompt.picture else []
        for text in texts:
            assert text.strip() and "{" not in text and "}" not in text
            if language in SCRIPTS:
                assert set(LATIN.findall(text)) <= SHARED_LETTERS, text


@pytest.mark.parametrize("language", LISTED)
def test_every_phrase_of_a_card_is_there_and_in_the_languages_own_letters(language: str):
    for text in family_phrases():
        said = phrase(text, language)
        assert said.strip()
        if language in SCRIPTS:
            assert re.search(f"[{SCRIPTS[language]}]", said)
            assert not LATIN.search(said), said


@pytest.mark.parametrize("language", LISTED)
def test_every_number_has_a_word_of_its_own_and_is_read_back(language: str):
    words = [number_word(number, language) for number in range(LARGEST + 1)]
    assert len(set(words)) == len(words)
    prompt = make_prompts("doubling", 20, 1, 1)[0]
    for number in range(LARGEST + 1):
        assert read_answer(prompt, number_word(number, language), language) == number


@pytest.mark.parametrize("language", LISTED)
def test_choices_and_whole_sentences_are_read_in_the_language(language: str):
    for prompt in PROMPTS:
        if prompt.choices and isinstance(prompt.answer, str):
            assert read_answer(prompt, choice_word(prompt.answer, language), language) == (
                prompt.answer
            )
        elif isinstance(prompt.answer, int) and write(prompt, language).count("□") == 1:
            typed = write(prompt, language).replace("□", str(prompt.answer))
            assert read_answer(prompt, typed, language) == prompt.answer, typed


def test_nouns_follow_the_class_of_their_number_and_numbers_the_gender_of_their_noun():
    """Source: common practice of Polish grammar (dwie łyżki, pięć łyżek, 22 łyżki)."""
    forms = {"one": "{n} łyżka", "few": "{n} łyżki", "many": "{n} łyżek", "gender": "f"}
    nouns = Nouns("pl", {"spoon": {**forms, "=0": "ani jednej łyżki"}}, {"f": {2: "dwie"}})

    assert nouns.count(2, "dwa", "spoon") == "dwie łyżki"
    assert nouns.count(2, "2", "spoon") == "2 łyżki"
    assert [nouns.count(n, str(n), "spoon") for n in (1, 5, 22)] == [
        "1 łyżka",
        "5 łyżek",
        "22 łyżki",
    ]
    assert nouns.count(0, "0", "spoon") == "ani jednej łyżki"


def test_runs_of_numbers_stay_from_left_to_right_and_words_do_not():
    assert from_left_to_right("من: 7, 3, 5 → □") == f"من: {FROM_LEFT}7, 3, 5 → □\u2069"
    assert from_left_to_right("نصف 8") == "نصف 8"
    assert from_left_to_right("علامة ÷ 2") == f"علامة {FROM_LEFT}÷ 2\u2069"


@pytest.mark.parametrize("language", [name for name in LISTED if LANGUAGES[name].right_to_left])
def test_number_sentences_inside_a_phrase_stay_from_left_to_right(language: str):
    assert f"{FROM_LEFT}8 ÷ 2 = 4\u2069" in phrase(
        "8 ÷ 2 = 4. Two plates, and 4 on each.", language
    )
    assert f"{FROM_LEFT}3 < 7\u2069" in phrase("3 < 7. The wide side is by 7.", language)


def test_a_phrase_that_a_table_lacks_is_an_error_and_never_english_in_silence():
    data = {**read_file(FILES["pl"]), "phrases": {"odd": ""}}

    with pytest.raises(KeyError, match="odd"):
        table_from(data).phrase("odd")

"""Catalogues of the family pages: in step with the pages, compiled, and complete where offered."""

import gettext
import re

import polib
import pytest
from django.conf import settings
from django.utils.translation import gettext as translated
from django.utils.translation import override

from portal.translation.catalogues import PLURALS, catalogue_path, missing, wrong_places
from portal.translation.family_strings import family_strings
from portal.translation.languages import (
    ENGLISH_NAMES,
    NOBODY,
    OWN_NAMES,
    RIGHT_TO_LEFT,
    catalogue,
    offered,
)
from tasks.numberwork.words import LANGUAGES
from tasks.numberwork.words.files import FOLDER, read_file

ALL = list(ENGLISH_NAMES)
LISTED = [language for language, _name in offered()[1:]]
# Names, signs and words that are the same in some language.
MAY_STAY = {"A4", "US Letter", "%(kind)s %(number)s", "?", ", or ", "PDF", "Kitchen Counter"}


def opened(language: str) -> polib.POFile:
    """Read a catalogue."""
    return polib.pofile(str(catalogue_path(language)))


@pytest.mark.parametrize("language", ALL)
def test_a_catalogue_asks_for_every_string_of_family_pages_and_no_other(language: str):
    asked = {(entry.msgctxt or "", entry.msgid, entry.msgid_plural) for entry in opened(language)}

    assert asked == {text.key for text in family_strings()}


@pytest.mark.parametrize("language", ALL)
def test_what_is_compiled_is_what_is_written(language: str):
    """Source: the standard library's reader of compiled catalogues."""
    path = catalogue_path(language).with_suffix(".mo")
    with path.open("rb") as file:
        compiled = gettext.GNUTranslations(file)
    for entry in opened(language):
        if entry.msgid_plural:
            for number in range(120) if all(entry.msgstr_plural.values()) else ():
                said = compiled.ngettext(entry.msgid, entry.msgid_plural, number)
                assert said in entry.msgstr_plural.values()
        elif entry.msgctxt:
            said = compiled.pgettext(entry.msgctxt, entry.msgid)
            assert said == (entry.msgstr or entry.msgid)
        else:
            assert compiled.gettext(entry.msgid) == (entry.msgstr or entry.msgid)


@pytest.mark.parametrize("language", ALL)
def test_a_translation_is_filled_with_what_the_english_is_filled_with(language: str):
    assert wrong_places(opened(language)) == []


@pytest.mark.parametrize("language", LISTED)
def test_a_language_that_families_can_choose_lacks_no_string(language: str):
    assert missing(opened(language)) == []
    same = [
        entry.msgid
        for entry in opened(language)
        if entry.msgstr == entry.msgid
        and entry.msgid not in MAY_STAY
        and len(re.sub(r"%\(\w+\)\w", "", entry.msgid)) > 12
    ]
    assert same == []


@pytest.mark.parametrize("language", LISTED)
def test_a_language_keeps_the_breaks_and_marks_of_the_english(language: str):
    for entry in opened(language):
        if entry.msgstr:
            assert entry.msgstr.count("\n") == entry.msgid.count("\n"), entry.msgid
            tags = re.findall(r"</?\w+[^>]*>", entry.msgid)
            assert sorted(re.findall(r"</?\w+[^>]*>", entry.msgstr)) == sorted(tags)


def test_pages_and_number_work_are_offered_in_the_same_languages():
    assert sorted(LISTED) == sorted(set(LANGUAGES) - {"en"})
    assert dict(settings.LANGUAGES).keys() == {"en-gb", *LISTED}


@pytest.mark.parametrize("language", ALL)
def test_both_files_of_a_language_say_who_has_checked_it(language: str):
    words = read_file(FOLDER / f"{language}.json")
    header = opened(language).metadata
    assert (words["checked_by"] or NOBODY) == header["X-Checked-By"]
    assert words["listed"] == (header["X-Listed"] == "yes")
    assert catalogue(language).is_checked == (header["X-Checked-By"] != NOBODY)


@pytest.mark.parametrize("language", ALL)
def test_plural_forms_are_told_to_the_framework_as_they_are_written(language: str):
    assert opened(language).metadata["Plural-Forms"] == PLURALS[language]
    assert [catalogue_path("pl").parents[2]] == settings.LOCALE_PATHS


@pytest.mark.parametrize("language", ALL)
def test_days_and_months_are_known_to_the_framework(language: str):
    with override(language):
        assert translated("Monday") != "Monday"
        assert translated("November") != "November"


def test_names_of_languages_are_their_own():
    """Source: Unicode CLDR, as the library babel carries it."""
    from babel import Locale

    for language, name in OWN_NAMES.items():
        locale = Locale(language)
        assert name.casefold() == (locale.get_display_name(language) or "").casefold()
        assert (locale.text_direction == "rtl") == (language in RIGHT_TO_LEFT)

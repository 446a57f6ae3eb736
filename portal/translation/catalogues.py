"""Catalogues kept in step with the strings of family pages."""

from __future__ import annotations

from pathlib import Path

import polib

from portal.translation.family_strings import Text, family_strings
from portal.translation.languages import ENGLISH_NAMES, FOLDER, NOBODY

_SLAVIC = "(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<12 || n%100>14) ? 1 : 2)"
# Source: GNU gettext manual, "Plural forms"; Ukrainian and Welsh: Unicode CLDR 45.
PLURALS = {
    "cy": "nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n==3 ? 3 : n==6 ? 4 : 5);",
    "pl": f"nplurals=3; plural={_SLAVIC};",
    "ro": "nplurals=3; plural=(n==1 ? 0 : (n==0 || (n%100>0 && n%100<20)) ? 1 : 2);",
    "uk": f"nplurals=3; plural={_SLAVIC.replace('n==1', 'n%10==1 && n%100!=11')};",
    "ur": "nplurals=2; plural=(n != 1);",
    "ar": (
        "nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : "
        "n%100>=11 ? 4 : 5);"
    ),
}


def catalogue_path(language: str) -> Path:
    """Return where the catalogue of *language* is."""
    return FOLDER / language / "LC_MESSAGES" / "django.po"


def open_catalogue(language: str) -> polib.POFile:
    """Read the catalogue of *language*, or begin it."""
    path = catalogue_path(language)
    if path.is_file():
        return polib.pofile(str(path), wrapwidth=96)
    catalogue = polib.POFile(wrapwidth=96)
    catalogue.header = f"{ENGLISH_NAMES[language]}: the family pages of the portal."
    catalogue.metadata = {
        "Language": language,
        "MIME-Version": "1.0",
        "Content-Type": "text/plain; charset=UTF-8",
        "Content-Transfer-Encoding": "8bit",
        "Plural-Forms": PLURALS[language],
        "X-Listed": "no",
        "X-Checked-By": NOBODY,
    }
    return catalogue


def bring_up_to_date(language: str) -> polib.POFile:
    """Return every string of family pages its entry, drop what is no longer said, and save."""
    old = open_catalogue(language)
    known = {(entry.msgctxt or "", entry.msgid, entry.msgid_plural): entry for entry in old}
    forms = int(PLURALS[language].split("nplurals=")[1][0])
    new = polib.POFile(wrapwidth=96)
    new.header, new.metadata = old.header, old.metadata
    for text in family_strings():
        new.append(_entry(text, known.get(text.key), forms))
    path = catalogue_path(language)
    path.parent.mkdir(parents=True, exist_ok=True)
    new.save(str(path))
    new.save_as_mofile(str(path.with_suffix(".mo")))
    return new


def _entry(text: Text, known: polib.POEntry | None, forms: int) -> polib.POEntry:
    """Make the entry of *text*, with the words that *known* has for it."""
    flags = ["python-format"] if "%(" in text.text else []
    entry = polib.POEntry(msgid=text.text, occurrences=[(text.place, "")], flags=flags)
    if text.context:
        entry.msgctxt = text.context
    if text.plural:
        entry.msgid_plural = text.plural
        given = known.msgstr_plural if known else {}
        entry.msgstr_plural = {form: given.get(form, "") for form in range(forms)}
    elif known:
        entry.msgstr = known.msgstr
    if known:
        entry.comment, entry.tcomment = known.comment, known.tcomment
    return entry


def missing(catalogue: polib.POFile) -> list[str]:
    """List the strings that have no translation yet."""
    return [
        entry.msgid
        for entry in catalogue
        if not (all(entry.msgstr_plural.values()) if entry.msgid_plural else entry.msgstr)
    ]


def wrong_places(catalogue: polib.POFile) -> list[str]:
    """List translations whose %(names)s differ from those of the English."""
    return [entry.msgid for entry in catalogue if _names_differ(entry)]


def _names_differ(entry: polib.POEntry) -> bool:
    said = [*entry.msgstr_plural.values()] if entry.msgid_plural else [entry.msgstr]
    wanted = _names(entry.msgid) | _names(entry.msgid_plural or "")
    # A form for one number alone, such as the dual, may leave the number out.
    return any(
        text and not (_names(text) <= wanted and (entry.msgid_plural or _names(text) == wanted))
        for text in said
    )


def _names(text: str) -> set[str]:
    return {part.split(")")[0] for part in text.split("%(")[1:]}

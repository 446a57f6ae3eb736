"""The languages of the family pages, and who has read them: read from the catalogues' own headers.

One catalogue a language, `portal/locale/pl/LC_MESSAGES/django.po` and the .mo made from it. Its
header says `X-Listed: yes` once nothing is missing, and who checked it in `X-Checked-By`.

Numerals: the portal writes 0 to 9 in every language. Children of these schools read and write
those in class, so a card in Arabic must show the numeral that is on the child's paper, and a
second set of digits in the lines around it would only be in the way.
"""

import gettext
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[1] / "locale"
ENGLISH = "en-gb"
OWN_NAMES = {
    "cy": "Cymraeg",
    "pl": "Polski",
    "ro": "Română",
    "uk": "Українська",
    "ur": "اردو",
    "ar": "العربية",
}
ENGLISH_NAMES = {
    "cy": "Welsh",
    "pl": "Polish",
    "ro": "Romanian",
    "uk": "Ukrainian",
    "ur": "Urdu",
    "ar": "Arabic",
}
RIGHT_TO_LEFT = ("ur", "ar")
NOBODY = "nobody yet"


@dataclass(frozen=True, slots=True)
class Catalogue:
    """What the header of one language's catalogue says."""

    language: str
    listed: bool
    checked_by: str

    @property
    def is_checked(self) -> bool:
        """Whether somebody whose first language it is has read all of it."""
        return self.checked_by not in ("", NOBODY)


def catalogue(language: str) -> Catalogue | None:
    """Read the header of a language's catalogue; None without one."""
    path = FOLDER / language / "LC_MESSAGES" / "django.mo"
    if not path.is_file():
        return None
    with path.open("rb") as file:
        header = gettext.GNUTranslations(file).info()
    listed = header.get("x-listed", "no") == "yes"
    return Catalogue(language, listed, header.get("x-checked-by", NOBODY))


def offered() -> list[tuple[str, str]]:
    """Return the languages a family may choose, English first, each with what it calls itself."""
    found = [(language, catalogue(language)) for language in OWN_NAMES]
    return [
        (ENGLISH, "English"),
        *((language, OWN_NAMES[language]) for language, its in found if its and its.listed),
    ]

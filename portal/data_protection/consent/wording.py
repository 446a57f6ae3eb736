"""The words that homes agree to, each version with its date. A version once used never changes."""

import datetime as dt
from dataclasses import dataclass

from django.utils.translation import gettext_lazy as _

from portal.data_protection.hooks import Words
from portal.people.models import Purpose


@dataclass(frozen=True)
class Wording:
    """One version of what is asked, by purpose."""

    version: int
    since: dt.date
    words: dict[Purpose, Words]


WORDINGS = (
    Wording(
        1,
        dt.date(2026, 11, 25),
        {
            Purpose.DISPLAY: _(
                "The class may look at my child's work together, on the wall or the big screen."
            ),
            Purpose.FAMILIES: _("The school may show my child's work to other families."),
            Purpose.OUTSIDE: _(
                "Staff who do not work in the class may look at pictures that show my child with "
                "others, and at my child's work to learn from it."
            ),
        },
    ),
)
CURRENT = WORDINGS[-1]


def words_of(purpose: str, version: int) -> str:
    """Return the words of *purpose* in *version*. Raises KeyError."""
    found = {wording.version: wording for wording in WORDINGS}[version]
    return str(found.words[Purpose(purpose)])

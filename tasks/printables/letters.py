"""The letters of every printed page, embedded in the file so that it looks the same anywhere."""

import re
import unicodedata
from functools import cache
from pathlib import Path

from fontTools.ttLib import TTFont

_FOLDER = Path(__file__).resolve().parents[2] / "portal/static/vendor/letters"
REGULAR, BOLD = _FOLDER / "letters-400.ttf", _FOLDER / "letters-700.ttf"

_GAP_BEFORE_STOP = re.compile(r"\s+([.,;:!?])")


@cache
def _known() -> frozenset[str]:
    """Give every character that both weights can show."""
    tables = (TTFont(path, lazy=True).getBestCmap() for path in (REGULAR, BOLD))
    return frozenset(map(chr, frozenset.intersection(*map(frozenset, tables))))


def printable(text: str) -> str:
    """Give *text* on one line, composed, without the characters that these letters do not have.

    >>> printable("Well done 👏, Zoë")
    'Well done, Zoë'
    """
    composed = unicodedata.normalize("NFC", " ".join(text.split()))
    if composed.isascii():
        return composed
    kept = " ".join("".join(sign for sign in composed if sign in _known()).split())
    return composed if kept == composed else _GAP_BEFORE_STOP.sub(r"\1", kept)


def loses_letters(text: str) -> bool:
    """Tell whether *text* has letters or digits, not just ornaments, that cannot be printed."""
    if text.isascii():
        return False
    signs = set(unicodedata.normalize("NFC", text)) - _known()
    return any(unicodedata.category(sign)[0] in "LMN" for sign in signs)

"""The letters of every printed page, embedded in the file so that it looks the same anywhere."""

import re
import unicodedata
from functools import cache
from pathlib import Path

from django.utils.translation import get_language_bidi
from fontTools.ttLib import TTFont

_FOLDER = Path(__file__).resolve().parents[3] / "portal/static/vendor/letters"
REGULAR, BOLD = _FOLDER / "letters-400.ttf", _FOLDER / "letters-700.ttf"
_ARABIC = _FOLDER.parent / "letters-arabic"
ARABIC_REGULAR, ARABIC_BOLD = (_ARABIC / f"letters-arabic-{weight}.ttf" for weight in (400, 700))
# A run of numbers that stays from left to right among Arabic letters stands between these.
RUN_BEGINS, RUN_ENDS = "\u2066", "\u2069"
_RUN = re.compile(f"{RUN_BEGINS}([^{RUN_ENDS}]*){RUN_ENDS}")
_JOINED = "\u00a0"
# A mark that these letters lack, and the one that does as well.
_INSTEAD = str.maketrans({"ʼ": "’"})
_RIGHT_MARK = "\u200f"  # a word without letters that belongs to a line from right to left
# The Arabic comma also stands between numbers, and has no direction of its own.
_FROM_RIGHT = re.compile(f"[\u0590-\u060b\u060d-\u08ff{_RIGHT_MARK}]")

_GAP_BEFORE_STOP = re.compile(r"\s+([.,;:!?])")


def _known() -> frozenset[str]:
    """Return every character that a page in the language of its reader can show."""
    if not get_language_bidi():
        return _of_both(REGULAR, BOLD)
    return _of_both(REGULAR, BOLD) | _of_both(ARABIC_REGULAR, ARABIC_BOLD) | {RUN_BEGINS, RUN_ENDS}


@cache
def _of_both(regular: Path, bold: Path) -> frozenset[str]:
    """Return every character that both weights have."""
    tables = (TTFont(path, lazy=True).getBestCmap() for path in (regular, bold))
    return frozenset(map(chr, frozenset.intersection(*map(frozenset, tables))))


def printable(text: str) -> str:
    """Return *text* on one line, composed, without the characters that these letters do not have.

    >>> printable("Well done 👏, Zoë")
    'Well done, Zoë'
    """
    composed = unicodedata.normalize("NFC", " ".join(text.translate(_INSTEAD).split()))
    if composed.isascii():
        return composed
    kept = " ".join("".join(sign for sign in composed if sign in _known()).split())
    return composed if kept == composed else _GAP_BEFORE_STOP.sub(r"\1", kept)


def loses_letters(text: str) -> bool:
    """Tell whether *text* has letters or digits, not just ornaments, that cannot be printed."""
    if text.isascii():
        return False
    signs = set(unicodedata.normalize("NFC", text.translate(_INSTEAD))) - _known()
    return any(unicodedata.category(sign)[0] in "LMN" for sign in signs)


def runs_from_right(text: str) -> bool:
    """Tell whether *text* has letters that are written from right to left."""
    return bool(_FROM_RIGHT.search(text))


def words_of(text: str) -> list[str]:
    """Split *text* into words; a run of numbers is one of them, with its marks."""
    known = printable(text)
    kept = _RUN.sub(lambda run: run[0].replace(" ", _JOINED), known)
    from_right = runs_from_right(known)
    return [_word(word, from_right) for word in kept.split(" ")]


def _word(word: str, from_right: bool) -> str:
    """Return a word with what its direction cannot be seen from without the line around it."""
    if RUN_BEGINS in word:
        return word.replace(_JOINED, " ")
    return f"{word}{_RIGHT_MARK}" if from_right and not runs_from_right(word) else word


def pieces_of(text: str) -> list[tuple[str, bool]]:
    """Split *text* into what stands outside and inside runs of numbers: (text, is a run)."""
    parts = re.split(f"[{RUN_BEGINS}{RUN_ENDS}]", text)
    return [(part, place % 2 == 1) for place, part in enumerate(parts) if part]


def without_marks(text: str) -> str:
    """Return *text* without the marks of its runs."""
    return text.translate(dict.fromkeys(map(ord, (RUN_BEGINS, RUN_ENDS, _RIGHT_MARK))))

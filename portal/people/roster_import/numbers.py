"""Knows a unique pupil number, so that none is kept by mistake."""

import re
from collections.abc import Sequence

CHECK_LETTERS = "ABCDEFGHJKLMNPQRTUVWXYZ"
SHAPE = re.compile(r"([A-Z])(\d{11})([\dA-Z])")


def is_upn(text: str) -> bool:
    """Whether *text* is a unique pupil number: of that shape, its check letter right.

    Source: UK Government Data Standards Catalogue, Unique Pupil Number 2.0: positions 2 to 13
    weighted 2 to 13, added, modulo 23, as one of 23 letters; a last letter counts as its place.
    """
    found = SHAPE.fullmatch(text.strip().upper())
    if found is None:
        return False
    check, digits, last = found.groups()
    if not last.isdecimal() and last not in CHECK_LETTERS:
        return False
    values = [int(digit) for digit in digits]
    values.append(int(last) if last.isdecimal() else CHECK_LETTERS.index(last))
    total = sum(weight * value for weight, value in enumerate(values, start=2))
    return CHECK_LETTERS[total % 23] == check


def are_upns(texts: Sequence[str]) -> bool:
    """Whether at least half of *texts* are unique pupil numbers."""
    return bool(texts) and 2 * sum(is_upn(text) for text in texts) >= len(texts)

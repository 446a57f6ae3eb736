"""Mistakes that several kinds share."""

from __future__ import annotations

FEW, MANY = "one too few", "one too many"
SELF, OPPOSITE = "said the number itself", "did the opposite"
FROM_START = "counted the start number"
FIRST, SECOND = "said the first number", "said the second number"
SAME_EACH_TIME_FIRST, SAME_EACH_TIME_LAST = "always the first", "always the last"

SENTENCES = {
    FEW: "Gave one too few",
    MANY: "Gave one too many",
    SELF: "Said the number itself",
    FROM_START: "Counted the number started from as well",
    FIRST: "Said the first number",
    SECOND: "Said the second number",
    SAME_EACH_TIME_FIRST: "Chose the first one",
    SAME_EACH_TIME_LAST: "Chose the last one",
}


def sentences(*names: str) -> dict[str, str]:
    """Return the teacher's sentence of each of these mistakes."""
    return {name: SENTENCES[name] for name in names}

"""British English: short stories for adding and taking away, and how things are counted."""

from __future__ import annotations

NAMES: dict[str, str] = {}

TEMPLATES: dict[str, str] = {}

_NO_S = {"is": "are", "was": "were", "does": "do", "it": "they"}


def counted(number: int, said: str, noun: str) -> str:
    """Count things ("two spoons"), or fit a verb to the number ({0:is} gives "is" or "are").

    >>> counted(1, "one", "spoon"), counted(2, "two", "dish"), counted(2, "two", "is")
    ('one spoon', 'two dishes', 'are')
    """
    if noun in _NO_S:
        return noun if number == 1 else _NO_S[noun]
    return f"{said} {noun if number == 1 else plural(noun)}"


def plural(noun: str) -> str:
    """Give the plural of a kitchen noun."""
    if noun.endswith(("sh", "s", "x")):
        return f"{noun}es"
    return f"{noun}s"

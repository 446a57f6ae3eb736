"""Which form of a noun a whole number takes, language by language.

Source: Unicode CLDR 45, supplemental/plurals.xml (cardinal rules, whole numbers).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping


def _one_or_other(number: int) -> str:
    return "one" if number == 1 else "other"


def _arabic(number: int) -> str:
    if number <= 2:
        return ("zero", "one", "two")[number]
    last = number % 100
    return "few" if 3 <= last <= 10 else "many" if last >= 11 else "other"


def _polish(number: int) -> str:
    few = number % 10 in (2, 3, 4) and number % 100 not in (12, 13, 14)
    return "one" if number == 1 else "few" if few else "many"


def _romanian(number: int) -> str:
    few = number == 0 or 1 <= number % 100 <= 19
    return "one" if number == 1 else "few" if few else "other"


def _ukrainian(number: int) -> str:
    if number % 10 == 1 and number % 100 != 11:
        return "one"
    few = number % 10 in (2, 3, 4) and number % 100 not in (12, 13, 14)
    return "few" if few else "many"


def _welsh(number: int) -> str:
    named = {0: "zero", 1: "one", 2: "two", 3: "few", 6: "many"}
    return named.get(number, "other")


RULES: Mapping[str, Callable[[int], str]] = {
    "ar": _arabic,
    "cy": _welsh,
    "en": _one_or_other,
    "pl": _polish,
    "ro": _romanian,
    "uk": _ukrainian,
    "ur": _one_or_other,
}
CATEGORIES: Mapping[str, tuple[str, ...]] = {
    "ar": ("zero", "one", "two", "few", "many", "other"),
    "cy": ("zero", "one", "two", "few", "many", "other"),
    "en": ("one", "other"),
    "pl": ("one", "few", "many"),
    "ro": ("one", "few", "other"),
    "uk": ("one", "few", "many"),
    "ur": ("one", "other"),
}


def category(language: str, number: int) -> str:
    """Return the plural category of *number*, 0 or more. Raises KeyError without a rule.

    >>> category("pl", 1), category("pl", 3), category("pl", 12), category("ar", 2)
    ('one', 'few', 'many', 'two')
    """
    return RULES[language](number)

"""Questions by their numbers: how a teacher would type one, and how what she typed is read."""

from __future__ import annotations

import re
from dataclasses import dataclass

from tasks.numberwork.kind import Ask
from tasks.numberwork.words import BOX, written

# What may be typed for a sign, and for the box.
_TYPED = {"-": "−", "–": "−", "*": "×", "x": "×", "/": "÷", ":": "÷", "_": BOX, "?": BOX}
_TYPED_SIGNS = str.maketrans(_TYPED)
_SIGNS = re.compile(r"[+−×÷<>]")
_NUMBERS = re.compile(r"\d+")
_ONLY_NUMBERS = re.compile(rf"[\d\s+−×÷<>=,{BOX}]*")
LONGEST = 4  # digits of a number somebody may mean


@dataclass(frozen=True, slots=True)
class Item:
    """One question as it was typed. plain: without spaces, signs as they are written."""

    text: str
    plain: str
    numbers: tuple[int, ...]
    signs: frozenset[str]

    @classmethod
    def read(cls, text: str) -> Item:
        """Read one question.

        >>> Item.read(" 3+4 ").numbers, Item.read("9 - 2").plain, Item.read("three").numbers
        ((3, 4), '9−2', ())
        """
        plain = re.sub(rf"{BOX}+", BOX, "".join(text.lower().translate(_TYPED_SIGNS).split()))
        # Spaces stand between numbers, so the numbers are read off the text as it was typed.
        found = tuple(int(digits[:LONGEST]) for digits in _NUMBERS.findall(text))
        return cls(" ".join(text.split()), plain, found, frozenset(_SIGNS.findall(plain)))

    @property
    def result(self) -> int | None:
        """Return what a sum of two numbers typed with one sign comes to; None for any other."""
        if len(self.numbers) != 2 or len(self.signs) != 1:
            return None
        one, other = self.numbers
        sign = next(iter(self.signs))
        if sign == "÷":
            return one // other if other and one % other == 0 else None
        return {"+": one + other, "−": one - other, "×": one * other}.get(sign)


def numbers_of_fact(fact: str) -> tuple[int, ...]:
    """Return the numbers that a fact is named by.

    >>> numbers_of_fact("3,4"), numbers_of_fact("rows:6")
    ((3, 4), (6,))
    """
    return tuple(map(int, _NUMBERS.findall(fact)))


def names(item: Item, ask: Ask, kind: str) -> int | None:
    """Return how closely *item* names a question of *kind*, 0 the closest; None if it does not.

    0: it is the question itself, with or without "= □". 1: the numbers it is about, as its fact
    says them. 2: the two parts of a fact that names their total too. 3: the numbers that stand
    in it, or those and the answer.
    """
    sentence = "".join(written(kind, ask.form, ask.numbers, ask.things).lower().split())
    if item.plain in {sentence, sentence.removesuffix(f"={BOX}"), sentence.removeprefix(f"{BOX}=")}:
        return 0
    if not item.numbers or BOX in item.plain or not _signs_fit(item, ask, sentence):
        return None
    fact = numbers_of_fact(ask.fact)
    parts = fact[:-1] if len(fact) == 3 and fact[0] + fact[1] == fact[2] else None
    answer = (ask.answer,) if isinstance(ask.answer, int) else ()
    ways = ((fact,), (parts,), (ask.numbers, (*ask.numbers, *answer), (*fact, *answer)))
    return next((way for way, found in enumerate(ways, 1) if item.numbers in found), None)


def _signs_fit(item: Item, ask: Ask, sentence: str) -> bool:
    """Tell whether the signs typed are those of the question, or come to the same without any."""
    own = frozenset(_SIGNS.findall(sentence))
    return not item.signs or item.signs <= own or (not own and item.result == ask.answer)


def short_name(kind: str, ask: Ask) -> str:
    """Name a question as shortly as it can be typed: its sum, or the numbers of its fact.

    >>> from tasks.numberwork.pool import pool_of
    >>> [short_name(kind, pool_of(kind, 10, "core").asks[9]) for kind in ("adding", "halving")]
    ['0 + 10', '10']
    """
    sentence = written(kind, ask.form, ask.numbers, ask.things)
    if BOX in sentence and _ONLY_NUMBERS.fullmatch(sentence):
        for end in (f" = {BOX}", f"{BOX} = "):
            left = sentence.removesuffix(end).removeprefix(end)
            if left != sentence and BOX not in left:
                return left
        return sentence
    return " and ".join(map(str, numbers_of_fact(ask.fact)))

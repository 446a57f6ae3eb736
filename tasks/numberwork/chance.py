"""Seeded chance that gives the same draws on every machine and every Python from 3.11."""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import TypeVar

Item = TypeVar("Item")


class Chance:
    """Draw from a seed made of words and numbers.

    Only `random()` is used: it is the one method whose sequence the Python manual promises
    to keep for equal seeds, and text seeds are hashed by SHA-512, not by `hash()`.
    """

    def __init__(self, *seed: int | str) -> None:
        self._source = random.Random("/".join(map(str, seed)))

    def below(self, number: int) -> int:
        """Draw a whole number from 0 to *number* - 1."""
        return int(self._source.random() * number)

    def choice(self, items: Sequence[Item]) -> Item:
        """Draw one of *items*, which must not be empty."""
        return items[self.below(len(items))]

    def shuffled(self, items: Sequence[Item]) -> list[Item]:
        """Return *items* in a drawn order (Fisher and Yates), leaving the original alone."""
        mixed = list(items)
        for last in range(len(mixed) - 1, 0, -1):
            other = self.below(last + 1)
            mixed[last], mixed[other] = mixed[other], mixed[last]
        return mixed

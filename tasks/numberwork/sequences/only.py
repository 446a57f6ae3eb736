"""What of a kind may be asked: some ways of asking, some facts, numbers from one to another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tasks.numberwork.kind import Ask


@dataclass(frozen=True, slots=True)
class Only:
    """Which questions of a kind may be asked; with nothing in it, all.

    forms and facts: names in `Ask.form` and `Ask.fact`, none for any. least, most: the largest
    number in the question or its answer is within these, both included; 0 for no limit.
    """

    forms: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    least: int = 0
    most: int = 0

    @classmethod
    def read(cls, kept: Mapping[str, Any] | None) -> Only:
        """Read what `asdict` wrote, also when JSON has been in between.

        >>> Only.read({"forms": ["half of"], "most": 10})
        Only(forms=('half of',), facts=(), least=0, most=10)
        """
        kept = kept or {}
        return cls(
            tuple(kept.get("forms", ())),
            tuple(kept.get("facts", ())),
            int(kept.get("least", 0)),
            int(kept.get("most", 0)),
        )

    def allows(self, ask: Ask) -> bool:
        """Tell whether *ask* may be asked."""
        if self.forms and ask.form not in self.forms:
            return False
        return self.allows_whatever_the_form(ask)

    def allows_whatever_the_form(self, ask: Ask) -> bool:
        """Tell whether *ask* may be asked as far as its numbers and its fact go."""
        if self.facts and ask.fact not in self.facts:
            return False
        return self.least <= size(ask) <= (self.most or size(ask))


def size(ask: Ask) -> int:
    """Return the largest number in a question or in its answer; 0 where there is none."""
    numbers = ask.answer if isinstance(ask.answer, tuple) else (ask.answer,)
    every = (number for number in (*ask.numbers, *numbers) if isinstance(number, int))
    return max(every, default=0)


EVERYTHING = Only()

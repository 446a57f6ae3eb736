"""Mistakes in words for a teacher."""

from __future__ import annotations

from collections.abc import Sequence

from tasks.numberwork.kinds import kind_kept
from tasks.numberwork.kinds.mistakes import FEW, MANY, SENTENCES

_MAY_BE = {
    FEW: ("a thing or a number was left out", "the count stopped one early"),
    MANY: ("a thing or a number was counted twice", "the count went on one too long"),
}
WATCH = "Watch one counted aloud: where it starts, one number for each thing, where it stops."


def words_of_mistake(kind: str, name: str) -> str:
    """Return the sentence of a mistake without its full stop, in the words of its own kind.

    A plain miscount has words in every kind; by its name where its kind lost it.
    """
    return kind_kept(kind).mistakes.get(name) or SENTENCES.get(name, name)


def miscount_sentence(kind: str, name: str, counts: str, also: Sequence[str]) -> str:
    """Say that answers were one too few or too many, two things it may be, what to watch for.

    also: mistakes of the kind that give the same answers. Common practice, no source.
    """
    own = [f"“{words_of_mistake(kind, other)}”" for other in also]
    first, second = [*own, *_MAY_BE[name]][:2]
    return f"One {name[4:]} in {counts}. It may be: {first}; or {second}. {WATCH}"

"""Which facts of a kind a teacher can choose from, each named as the sum or the number it is."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import DEPTHS
from tasks.numberwork.sequences.only import Only

SHORT = 16  # letters of a name that one finds among many
MOST = 250  # facts that one can still look over
_BOX_AT_AN_END = re.compile(r"( =| is|:) □$|^□ = ")  # what is left names the fact


def facts_to_choose(kind: str, within: int, depth: str) -> dict[str, str]:
    """Return the facts of a kind by name in `Ask.fact`, each with what it is called.

    Empty where they have no short names of their own (things in a picture, stories), where there
    are too many to look over, and where a set is about one number.

    >>> facts_to_choose("halving", 10, "core")
    {'2': 'half of 2', '4': 'half of 4', '6': 'half of 6', '8': 'half of 8', '10': 'half of 10'}
    """
    own = [ask.fact for ask in pool_of(kind, within, depth).asks]
    if EVERY_KIND[kind].one_number or len(set(own)) > MOST:
        return {}
    sentences: dict[str, list[str]] = {fact: [] for fact in own}
    for each in (depth, *DEPTHS):
        for ask in pool_of(kind, within, each).asks:
            if ask.fact in sentences:
                written = prompt_of(EVERY_KIND[kind], ask, within, each, 0).sentence
                sentences[ask.fact].append(_BOX_AT_AN_END.sub("", written))
    named = {fact: _name(fact, written) for fact, written in sentences.items()}
    names = set(named.values())
    return named if "" not in names and len(names) == len(named) else {}


def _name(fact: str, sentences: Sequence[str]) -> str:
    """Name a fact: its shortest sum that has no box; else a number, or one with a box; else ""."""
    short = [each for each in sentences if len(each) <= SHORT and "," not in each]
    plain = [each for each in short if "□" not in each]
    if plain:
        return plain[0]
    return fact if fact.isdecimal() else short[0] if short else ""


def facts_within(kind: str, within: int, depth: str, least: int, most: int) -> tuple[str, ...]:
    """Return the facts with a question whose largest number is from *least* to *most* (0: any)."""
    only = Only(least=least, most=most)
    asks = pool_of(kind, within, depth).asks
    return tuple(dict.fromkeys(ask.fact for ask in asks if only.allows(ask)))


def how_many_of(kind: str, within: int, only: Only) -> int:
    """Count the different questions that *only* leaves of a kind, at whatever depth."""
    pools = [pool_of(kind, within, depth) for depth in DEPTHS]
    return len(
        {
            key
            for pool in pools
            for ask, key in zip(pool.asks, pool.keys, strict=True)
            if only.allows_whatever_the_form(ask)
        }
    )

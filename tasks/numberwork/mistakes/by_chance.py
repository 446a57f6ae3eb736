"""How often chance alone gives answers that look like a mistake."""

from __future__ import annotations

from collections.abc import Sequence
from math import comb, fsum

from tasks.numberwork.mistakes.model import Seen
from tasks.numberwork.pool import offered
from tasks.numberwork.prompt import Prompt

BY_CHANCE = 0.05
RATES = 20  # shares of answers that are off by one, tried from 1/20 to all


def one_sided_by_chance(seen: Sequence[Seen], step: int) -> bool:
    """Tell whether answers off by one at random lie as much to one side in over 5 % of sets.

    *step*: the side, -1 or 1. With answers on both sides the sign test, both sides counted; with
    none on the other, for whatever share of answers is off by one. So five of five are not enough,
    five of six are, and so are eight of nine with one the other way.
    """
    there = sum(one.step == step for one in seen)
    against = sum(one.step == -step for one in seen)
    if against:
        both = there + against
        tail = sum(comb(both, more) for more in range(there, both + 1))
        return 2 * tail > BY_CHANCE * 2.0**both
    of = there + sum(one.right for one in seen)
    rates = [rate / RATES for rate in range(1, RATES + 1)]
    return max(_all_to_one_side(there, of, rate) for rate in rates) > BY_CHANCE


def all_off_by_chance(of: int) -> bool:
    """Tell whether *of* answers off by one at random lie all to one side in over 5 % of sets."""
    return _all_to_one_side(of, of, 1) > BY_CHANCE


def _all_to_one_side(least: int, of: int, rate: float) -> float:
    """Return the chance that *least* or more *of* answers are off by one, all to one side."""
    return fsum(
        2 * comb(of, off) * (rate / 2) ** off * (1 - rate) ** (of - off)
        for off in range(max(1, least), of + 1)
    )


def guessed_as_well(prompts: Sequence[Prompt], expected: int, patterns: int) -> bool:
    """Tell whether a child who guesses would match a mistake as well in over 5 % of sets.

    expected: answers as the mistake leads one to expect. patterns: how many mistakes there are to
    match by chance. Where any prompt is answered freely nobody guesses its answers so easily.
    """
    choices = [len(set(offered(prompt))) for prompt in prompts]
    if not all(choices):
        return False
    ways = [1.0]  # ways[n]: the chance of n matches so far
    for of in choices:
        match = 1 / of
        ways = [
            (ways[n] if n < len(ways) else 0) * (1 - match) + (ways[n - 1] * match if n else 0)
            for n in range(len(ways) + 1)
        ]
    return patterns * sum(ways[expected:]) > BY_CHANCE

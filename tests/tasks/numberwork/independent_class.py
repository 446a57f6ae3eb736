"""Children made up without a look at any table of mistakes: each works a sum out in its own way.

Whatever a way gives is worked out here from the two numbers alone. How careful each child is and
how often its way shows are drawn anew for every child. Ways and shares: assumed, no source.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from tasks.numberwork import make_prompts
from tasks.numberwork.prompt import Answer, Prompt

Way = Callable[[int, int], int]
RIGHT: dict[str, Way] = {
    "adding": lambda a, b: a + b,
    "taking-away": lambda a, b: a - b,
    "doubling": lambda a, _: 2 * a,
    "halving": lambda a, _: a // 2,
}
# A listed name and what such a child says; "" for a way that no kind lists.
WAYS: dict[str, list[tuple[str, Way]]] = {
    "adding": [
        ("took away", lambda a, b: abs(a - b)),
        ("said the first number", lambda a, b: a),
        ("said the second number", lambda a, b: b),
        ("", lambda a, b: a + b + 5),
        ("", lambda a, b: 10),
    ],
    "taking-away": [
        ("added", lambda a, b: a + b),
        ("said the first number", lambda a, b: a),
        ("", lambda a, b: abs(a - b) + 4),
        ("", lambda a, b: 3),
    ],
    "doubling": [
        ("said the number itself", lambda a, _: a),
        ("added two", lambda a, _: a + 2),
        ("", lambda a, _: 3 * a),
        ("", lambda a, _: a + 4),
    ],
    "halving": [
        ("doubled", lambda a, _: 2 * a),
        ("said the number itself", lambda a, _: a),
        ("took two away", lambda a, _: a - 2),
        ("", lambda a, _: a // 2 + 4),
        ("", lambda a, _: 5),
    ],
}


@dataclass(frozen=True)
class Worker:
    """A child's answers to a set, and the listed mistakes behind them."""

    names: tuple[str, ...]
    prompts: tuple[Prompt, ...]
    answers: tuple[Answer, ...]


def workers(kind: str, count: int, number: int, seed: int) -> Iterator[Worker]:
    """Make up *number* children who answer *count* prompts of a kind of `RIGHT` within 20."""
    chance = np.random.default_rng([seed, count, len(kind)])
    for child in range(number):
        prompts = make_prompts(kind, 20, count, 1000 * seed + child)
        careless = chance.beta(1, 14)
        sorts = ["careful", "astray", "one way", "two ways", "guesses"]
        sort = chance.choice(sorts, p=[0.45, 0.12, 0.3, 0.07, 0.06])
        own: list[tuple[str, Way]] = []
        if sort in ("one way", "two ways"):
            ways = WAYS[kind]
            picked = chance.choice(len(ways), 1 if sort == "one way" else 2, replace=False)
            own = [ways[place] for place in picked]
        shows = chance.beta(8, 2)
        answers = tuple(
            _said(prompt, kind, own, shows, careless + 0.3 * (sort == "astray"), sort, chance)
            for prompt in prompts
        )
        yield Worker(tuple(name for name, _ in own if name), prompts, answers)


def _said(
    prompt: Prompt,
    kind: str,
    own: list[tuple[str, Way]],
    shows: float,
    careless: float,
    sort: str,
    chance: np.random.Generator,
) -> int:
    first, second = (*prompt.numbers, 0)[:2]
    if sort == "guesses":
        return int(chance.integers(0, 21))
    if chance.random() < careless:
        away = int(chance.geometric(0.6)) * int(chance.choice([-1, 1]))
        return max(0, RIGHT[kind](first, second) + away)
    if own and chance.random() < shows:
        return own[chance.integers(len(own))][1](first, second)
    return RIGHT[kind](first, second)

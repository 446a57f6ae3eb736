"""Children made up from what is said of children's mistakes, for another library to judge by.

Every answer is worked out here from the numbers of a question: neither the portal's list of wrong
answers is asked for one, nor any class made up elsewhere in these tests. Shares and ways: assumed.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from tasks.numberwork import make_prompts
from tasks.numberwork.prompt import Answer, Prompt

WITHIN = 20
Way = Callable[[int, int], int]  # of the two numbers of a question; the second may be 0
RIGHT: Mapping[str, Way] = {
    "adding": lambda a, b: a + b,
    "taking-away": lambda a, b: a - b,
    "doubling": lambda a, b: a + a,
    "halving": lambda a, b: a // 2,
    "one-more": lambda a, b: a + 1,
    "one-less": lambda a, b: a - 1,
    "missing-part": lambda a, b: b - a,
    "sharing-equally": lambda a, b: a // b,
}
LISTED: Mapping[str, Mapping[str, Way]] = {
    "adding": {
        "took away": lambda a, b: abs(a - b),
        "said the first number": lambda a, b: a,
        "said the second number": lambda a, b: b,
        "counted the start number": lambda a, b: a + b - 1,
    },
    "taking-away": {
        "added": lambda a, b: a + b,
        "said the first number": lambda a, b: a,
        "said the second number": lambda a, b: b,
        "counted the start number": lambda a, b: a - b + 1,
    },
    "doubling": {
        "said the number itself": lambda a, b: a,
        "added two": lambda a, b: a + 2,
        "added one": lambda a, b: a + 1,
    },
    "halving": {
        "doubled": lambda a, b: 2 * a,
        "took two away": lambda a, b: a - 2,
        "took one away": lambda a, b: a - 1,
        "said the number itself": lambda a, b: a,
    },
    "one-more": {
        "did the opposite": lambda a, b: a - 1,
        "went ten instead of one": lambda a, b: a + 10,
    },
    "one-less": {
        "did the opposite": lambda a, b: a + 1,
        "went ten instead of one": lambda a, b: a - 10 if a >= 10 else a - 1,
    },
    "missing-part": {
        "said the whole": lambda a, b: b,
        "said the part again": lambda a, b: a,
        "added the numbers": lambda a, b: a + b,
    },
    "sharing-equally": {
        "said how many altogether": lambda a, b: a,
        "said how many plates": lambda a, b: b,
        "gave one each": lambda a, b: 1,
    },
}
# What no kind lists, so that nothing should be named.
OWN: tuple[Way, ...] = (lambda a, b: 7, lambda a, b: a + b + 4, lambda a, b: 2 * a + 3)
CAREFUL, NEAR, OFF_BY_ONE, GUESSES = "careful", "near misses", "off by one", "guesses"
STEADY, SOMETIMES, TWO, UNLISTED = "one way", "one way, sometimes", "two ways", "a way of its own"
MISCOUNTS = "counts one too few, or one too many"
# An honest class: most are careful, and few mistakes are made every time.
SHARES = {
    CAREFUL: 0.40,
    NEAR: 0.12,
    OFF_BY_ONE: 0.05,
    MISCOUNTS: 0.04,
    GUESSES: 0.06,
    STEADY: 0.1,
    SOMETIMES: 0.11,
    TWO: 0.06,
    UNLISTED: 0.06,
}
SLIPS, SLIPS_NEAR = 0.05, 0.3
SHOWS_SOMETIMES = 0.7
STEPS = {"one too few": -1, "one too many": 1}
FEWEST_PLACES = 3  # questions on which a way leads to something wrong


@dataclass(frozen=True)
class Child:
    """What a child answered, and what lies behind it: the listed names of its ways."""

    sort: str
    names: tuple[str, ...]
    prompts: tuple[Prompt, ...]
    answers: tuple[Answer, ...]


def numbers_of(prompt: Prompt) -> tuple[int, int]:
    """Return the two numbers of a question, 0 for a second that it has not."""
    first, second = (*prompt.numbers, 0)[:2]
    return first, second


def made_up(kind: str, count: int, number: int, seed: int, sort: str = "") -> Iterator[Child]:
    """Make up *number* children who answer *count* questions of *kind*, all of one *sort* or mixed.

    A child whose questions cannot show its way is left out.
    """
    chance = np.random.default_rng([seed, count, *map(ord, kind)])
    sorts, shares = list(SHARES), list(SHARES.values())
    for child in range(number):
        own = sort or str(chance.choice(sorts, p=shares))
        prompts = make_prompts(kind, WITHIN, count, 7919 * seed + child)
        if not all(type(prompt.answer) is int and not prompt.choices for prompt in prompts):
            continue
        if all(RIGHT[kind](*numbers_of(prompt)) == prompt.answer for prompt in prompts):
            names = _names(kind, own, prompts, chance)
            if names is not None:
                unlisted = OWN[int(chance.integers(len(OWN)))]
                ways = [way_of(kind, name) for name in names] or [unlisted] * (own == UNLISTED)
                said = tuple(_said(kind, prompt, own, ways, chance) for prompt in prompts)
                yield Child(own, names, prompts, said)


def guessing(kind: str, within: int, count: int, number: int, seed: int) -> Iterator[Child]:
    """Make up *number* children who choose blindly among the choices of each question."""
    chance = np.random.default_rng([seed, count, *map(ord, kind)])
    for child in range(number):
        prompts = make_prompts(kind, within, count, 7919 * seed + child)
        said = tuple(str(chance.choice(prompt.choices)) for prompt in prompts if prompt.choices)
        if len(said) == len(prompts):
            yield Child(GUESSES, (), prompts, said)


def _names(
    kind: str, sort: str, prompts: tuple[Prompt, ...], chance: np.random.Generator
) -> tuple[str, ...] | None:
    if sort == MISCOUNTS:
        return (str(chance.choice(list(STEPS))),)
    if sort not in (STEADY, SOMETIMES, TWO):
        return ()
    ways = LISTED[kind]
    showing = [
        name
        for name, way in ways.items()
        if sum(way(*numbers_of(prompt)) != prompt.answer for prompt in prompts) >= FEWEST_PLACES
    ]
    needed = 2 if sort == TWO else 1
    if len(showing) < needed:
        return None
    return tuple(map(str, chance.choice(showing, needed, replace=False)))


def way_of(kind: str, name: str) -> Way:
    """Return what a child says whose way has this name."""
    if name in STEPS:
        return lambda a, b: _away(RIGHT[kind](a, b), STEPS[name])
    return LISTED[kind][name]


def _said(
    kind: str, prompt: Prompt, sort: str, ways: list[Way], chance: np.random.Generator
) -> int:
    first, second = numbers_of(prompt)
    right = RIGHT[kind](first, second)
    if sort == GUESSES:
        return int(chance.integers(0, WITHIN + 1))
    if sort == OFF_BY_ONE:
        return _away(right, int(chance.choice([-1, 1])))
    if chance.random() < (SLIPS_NEAR if sort == NEAR else SLIPS):
        return _away(right, int(chance.choice([-2, -1, -1, 1, 1, 2])))
    if ways and (sort not in (SOMETIMES, MISCOUNTS) or chance.random() < SHOWS_SOMETIMES):
        return ways[int(chance.integers(len(ways)))](first, second)
    return right


def _away(right: int, step: int) -> int:
    return right + step if right + step >= 0 else right - step

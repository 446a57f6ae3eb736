"""What a set of answers makes of each thing that may lie behind it, by a stated model.

All of it is stated, and none of it measured on children (a school may learn shares of its own,
see `shares`). What may lie behind a child's answers to one kind:

- none: right, but for a slip in 3, 10 or 25 of 100 answers;
- slips near by: one or two away, either way, in a quarter to three quarters of the answers;
- one off, either way: one too few or one too many, by chance, in most answers;
- guessing: any answer a child might give, all equally likely;
- no one pattern: mostly wrong, by a rule that the kind does not list;
- one of the kind's mistakes, or a plain miscount (one too few, one too many): it shows nearly
  always, 7 times in 10 or half the time, and where it does not show the answer is right;
- more than one thing: two of those in turn.

Except when guessing, 5 answers in 100 are slips besides. A slip is half of the time one or two
away from the right answer, else any answer a child might give: 0 to the range, and what any
mistake leads to. For words, signs and letters it is any of the choices.

A mistake which leads to one too few (or one too many) wherever it leads to anything wrong cannot
be told from a plain miscount: the two are one hypothesis, the miscount.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import exp, factorial, log, prod
from typing import TypeAlias

from tasks.numberwork.pool import NONE, STEPS, number_of, offered
from tasks.numberwork.prompt import Answer, Prompt

Key: TypeAlias = tuple[str, str]  # a mistake: its kind and its name

NEAR_BY, EITHER_WAY = "slips near by", "one off, either way"
GUESSING, UNCLEAR, MORE = "guessing", "no one pattern", "more than one thing"
PLAIN = (NONE, NEAR_BY, EITHER_WAY, GUESSING, UNCLEAR, MORE)

SHOWS = ((0.97, 0.5), (0.7, 0.3), (0.5, 0.2))  # how often a mistake shows, and how many do so
CARELESS = ((0.03, 0.6), (0.1, 0.25), (0.25, 0.15))  # slips of a child without a mistake
NEAR_RATES = ((0.25, 0.4), (0.5, 0.4), (0.75, 0.2))
EITHER_RATES = ((0.6, 0.4), (0.95, 0.6))
SLIP = 0.05
NEAR = 0.5  # of slips
NEARLY_ALL = 0.9  # of the slips of a child who slips near by
UNLISTED_RIGHT = 0.15
IN_TURN = ((0.45, 0.6), (0.3, 0.4))  # how often each of two shows


@dataclass(frozen=True, slots=True)
class Seen:
    """One answered prompt, as the model sees it.

    step: how far the answer is from the right one; None where that is no number.
    fits: the mistakes that lead to this answer; shows: those that lead to a wrong one here.
    slip, near, even: the chance of this answer when slipping, slipping near by, guessing.
    """

    right: bool
    step: int | None
    fits: frozenset[Key]
    shows: frozenset[Key]
    slip: float
    near: float
    even: float


def see(prompt: Prompt, answer: Answer) -> Seen:
    """Take in one answer. A right answer to an open question is right, whichever it is."""
    kind, number = prompt.kind, number_of(prompt)
    shows = {(kind, name) for name in prompt.mistakes}
    fits = {(kind, name) for name, wrong in prompt.mistakes.items() if wrong == answer}
    even = 1 / _plausible(prompt, answer)
    right = answer in prompt.right_answers
    if number is None:
        return Seen(right, None, frozenset(fits), frozenset(shows), even, 0.1 * even, even)
    step = answer - number if isinstance(answer, int) else None
    close = (step in (-2, -1, 1, 2)) / (2 + sum(number >= down for down in (1, 2)))
    shows |= {(kind, name) for name, by in STEPS.items() if number + by >= 0}
    fits |= {(kind, name) for name, by in STEPS.items() if step == by}
    slip, near = (share * close + (1 - share) * even for share in (NEAR, NEARLY_ALL))
    return Seen(right, step, frozenset(fits), frozenset(shows), slip, near, even)


def _plausible(prompt: Prompt, answer: Answer) -> int:
    """Count the answers a child might give to a prompt, this one included."""
    if there := offered(prompt):
        return len({*there, answer})
    if isinstance(answer, tuple) and sorted(answer) == sorted(prompt.numbers):
        return factorial(len(answer))
    named = {answer, prompt.answer, *prompt.mistakes.values()}
    if not isinstance(prompt.answer, int):
        return len(named) + prompt.within
    outside = {one for one in named if not isinstance(one, int) or one > prompt.within}
    return prompt.within + 1 + len(outside)


def alike(prompts: Iterable[Prompt]) -> dict[Key, Key]:
    """Pair each mistake the prompts can show with what it is taken for: itself, or a miscount.

    A mistake leading to one too few wherever it leads to anything wrong is "one too few".
    """
    steps: dict[Key, set[int | None]] = {}
    for prompt in prompts:
        number = number_of(prompt)
        for name, wrong in prompt.mistakes.items():
            away = None if number is None or not isinstance(wrong, int) else wrong - number
            steps.setdefault((prompt.kind, name), set()).add(away)
        if number is not None:
            steps |= {(prompt.kind, name): {by} for name, by in STEPS.items()}
    same: dict[Key, Key] = {}
    for key, found in steps.items():
        miscounts = [name for name, by in STEPS.items() if found == {by}]
        same[key] = (key[0], miscounts[0] if miscounts else key[1])
    return same


def likelihoods(prompts: Sequence[Prompt], seen: Sequence[Seen]) -> dict[Key | str, float]:
    """Give the chance of just these answers under each hypothesis, but for a common factor.

    prompts: all that were asked; seen: those that were answered. Keys: the names of PLAIN, and
    each mistake by kind and name; "more than one thing" is the mean over all pairs.
    """
    mistakes = list(dict.fromkeys(alike(prompts).values()))
    slips = log_of(one.slip for one in seen if not one.right)
    right = sum(one.right for one in seen)
    wrong = len(seen) - right
    logs: dict[Key | str, float] = {
        NONE: slips + log(sum(w * (1 - s) ** right * s**wrong for s, w in CARELESS)),
        GUESSING: log_of(one.even for one in seen),
        UNCLEAR: log_of(UNLISTED_RIGHT if one.right else 0.85 * one.slip for one in seen),
    }
    if any(key[1] in STEPS for key in mistakes):
        near = log_of(one.near for one in seen if not one.right)
        logs[NEAR_BY] = near + log(sum(w * (1 - r) ** right * r**wrong for r, w in NEAR_RATES))
        logs[EITHER_WAY] = log(sum(w * _either_way(seen, rate) for rate, w in EITHER_RATES))
    for key in mistakes:
        logs[key] = slips + log(_one_mistake(seen, key))
    pairs = list(combinations([key for key in mistakes if any(key in s.fits for s in seen)], 2))
    if pairs:
        every = len(mistakes) * (len(mistakes) - 1) / 2
        logs[MORE] = log(sum(_two_in_turn(seen, *pair) for pair in pairs) / every)
    most = max(logs.values())
    return {name: exp(value - most) for name, value in logs.items()}


def log_of(chances: Iterable[float]) -> float:
    """Return the logarithm of the product of *chances*."""
    return sum(map(log, chances))


def _either_way(seen: Sequence[Seen], rate: float) -> float:
    """Return the chance of the answers of a child who is off by one either way."""
    return prod(
        (1 - SLIP) * (1 - rate)
        if one.right
        else (1 - SLIP) * rate / 2 * (one.step in (-1, 1)) + SLIP * one.slip
        for one in seen
    )


def _one_mistake(seen: Sequence[Seen], key: Key) -> float:
    """Return the chance of the answers of a child with one mistake, over that of as many slips."""
    fits = [one.slip for one in seen if key in one.fits]
    shown_right = sum(one.right and key in one.shows for one in seen)
    other_right = sum(one.right and key not in one.shows for one in seen)
    slipped = sum(not one.right for one in seen) - len(fits)
    whole = (1 - SLIP) ** (shown_right + other_right) * SLIP**slipped
    if not any(key in one.shows for one in seen):
        return whole
    return whole * sum(
        weight
        * (1 - rate) ** shown_right
        * prod(((1 - SLIP) * rate + SLIP * slip) / slip for slip in fits)
        for rate, weight in SHOWS
    )


def _two_in_turn(seen: Sequence[Seen], one: Key, other: Key) -> float:
    """Return the chance of the answers of a child who makes two mistakes in turn."""
    total = 0.0
    for rate, weight in IN_TURN:
        chance = weight
        for each in seen:
            meant = rate * ((one in each.fits) + (other in each.fits))
            if each.right:
                meant = 1 - rate * ((one in each.shows) + (other in each.shows))
            chance *= (1 - SLIP) * meant + SLIP * each.slip * (not each.right)
        total += chance
    return total


def posterior(
    likely: Mapping[Key | str, float], shares: Mapping[Key | str, float]
) -> dict[Key | str, float]:
    """Weigh each hypothesis by how common it is before any answer is seen."""
    weights = {name: chance * shares[name] for name, chance in likely.items()}
    total = sum(weights.values())
    return {name: weight / total for name, weight in weights.items()}

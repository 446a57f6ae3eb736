"""Made-up children whose answers are as messy as real ones, to try the naming of mistakes on.

What lies behind each child's answers is known here and nowhere else. The shares of `MIXTURE` are
assumed, no source; `EVEN` has all of them equally often, for what must hold whatever the shares.
"""

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from tasks.numberwork import KINDS, make_prompts
from tasks.numberwork.prompt import Answer, Prompt

CAREFUL, SLIPS, OFF_BY_ONE = "careful", "slips near by", "off by one at random"
STEADY, UNSTEADY, TWO = "steady mistake", "mistake that shows sometimes", "two mistakes"
ONE_SIDED, GUESSES, NOT_LISTED = "one-sided miscount", "guesses", "mistake not in the list"
MIXTURE = {
    CAREFUL: 0.45,
    SLIPS: 0.12,
    OFF_BY_ONE: 0.05,
    ONE_SIDED: 0.03,
    GUESSES: 0.06,
    NOT_LISTED: 0.05,
    STEADY: 0.10,
    UNSTEADY: 0.10,
    TWO: 0.04,
}
EVEN = dict.fromkeys(MIXTURE, 1 / len(MIXTURE))
SHOWS_SOMETIMES = 0.7
SLIP_OF_CAREFUL, SLIP_OF_SLIPS, SLIP_OF_MISTAKEN = 0.05, 0.25, 0.05
LEAST_PLACES = 3  # prompts on which a mistake leads to a wrong answer; with fewer it cannot show


@dataclass(frozen=True)
class MadeUpChild:
    """A child's answers to a set, and the truth behind them: names are the listed mistakes."""

    truth: str
    names: tuple[str, ...]
    prompts: tuple[Prompt, ...]
    answers: tuple[Answer, ...]


def children(
    kind: str,
    within: int,
    count: int,
    number: int,
    seed: int,
    mixture: Mapping[str, float] = MIXTURE,
) -> Iterator[MadeUpChild]:
    """Make up *number* children who answer a set of *count* prompts each."""
    chance = random.Random(f"{kind}/{within}/{count}/{seed}")
    shares = dict(mixture)
    for child in range(number):
        prompts = make_prompts(kind, within, count, seed * 100_000 + child)
        truth = chance.choices(list(shares), list(shares.values()))[0]
        names = _names(truth, prompts, chance)
        if names is None:
            truth, names = CAREFUL, ()
        yield MadeUpChild(truth, names, prompts, _answers(truth, names, prompts, chance))


def _names(truth: str, prompts: Sequence[Prompt], chance: random.Random) -> tuple[str, ...] | None:
    """Draw the mistakes behind the answers; None where these prompts can show none of that sort."""
    if truth in (OFF_BY_ONE, ONE_SIDED) and not all(is_number(prompt) for prompt in prompts):
        return None
    if truth not in (STEADY, UNSTEADY, TWO):
        return (chance.choice(("one too few", "one too many")),) if truth == ONE_SIDED else ()
    shown = [
        name
        for name in KINDS[prompts[0].kind].mistakes
        if sum(name in prompt.mistakes for prompt in prompts) >= LEAST_PLACES
    ]
    if truth != TWO:
        return (chance.choice(shown),) if shown else None
    pairs = [
        pair
        for pair in combinations(shown, 2)
        if sum(p.mistakes.get(pair[0]) != p.mistakes.get(pair[1]) for p in prompts) >= LEAST_PLACES
    ]
    return chance.choice(pairs) if pairs else None


def is_number(prompt: Prompt) -> bool:
    """Tell whether one whole number answers the prompt, and there are none to pick from."""
    picks = set(prompt.mistakes.values()) <= set(prompt.numbers) and prompt.answer in prompt.numbers
    return isinstance(prompt.answer, int) and not (prompt.choices or prompt.is_open or picks)


def _answers(
    truth: str, names: Sequence[str], prompts: Sequence[Prompt], chance: random.Random
) -> tuple[Answer, ...]:
    """Answer all prompts as a child with this behind its answers does."""
    if truth == NOT_LISTED:
        own = _own_rule(chance)
        return tuple(own(prompt, chance) for prompt in prompts)
    return tuple(_answer(truth, names, prompt, chance) for prompt in prompts)


def _answer(truth: str, names: Sequence[str], prompt: Prompt, chance: random.Random) -> Answer:
    if truth == GUESSES:
        return guess(prompt, chance)
    if truth == OFF_BY_ONE:
        return step_from(prompt, chance.choice((-1, 1)))
    if truth in (CAREFUL, SLIPS):
        slips = chance.random() < (SLIP_OF_CAREFUL if truth == CAREFUL else SLIP_OF_SLIPS)
        return slip(prompt, chance, near=truth == SLIPS) if slips else prompt.answer
    if chance.random() < SLIP_OF_MISTAKEN:
        return slip(prompt, chance)
    if truth == ONE_SIDED:
        return step_from(prompt, -1 if names == ("one too few",) else 1)
    if truth == UNSTEADY and chance.random() >= SHOWS_SOMETIMES:
        return prompt.answer
    return prompt.mistakes.get(chance.choice(names), prompt.answer)


def guess(prompt: Prompt, chance: random.Random) -> Answer:
    """Say anything a child might say: a choice, or any number of the range."""
    if prompt.choices:
        return chance.choice(prompt.choices)
    if isinstance(prompt.answer, int):
        return chance.randint(0, max(5, prompt.within))
    return chance.choice([*prompt.right_answers[:3], *prompt.mistakes.values(), "?"])


def slip(prompt: Prompt, chance: random.Random, near: bool = False) -> Answer:
    """Give some wrong answer: mostly one or two away, else anything a child might say."""
    if is_number(prompt) and (near or chance.random() < 0.6):
        return step_from(prompt, chance.choice((-2, -1, -1, 1, 1, 2)))
    for _try in range(20):
        said = guess(prompt, chance)
        if said not in prompt.right_answers:
            return said
    return prompt.answer


def step_from(prompt: Prompt, step: int) -> Answer:
    """Go *step* from the right answer, not below 0."""
    assert isinstance(prompt.answer, int)
    return prompt.answer + step if prompt.answer + step >= 0 else prompt.answer - step


def _own_rule(chance: random.Random):
    """Draw a rule of the child's own that no kind has listed."""
    favourite = chance.randint(1, 9)
    rules = [
        lambda prompt, _: favourite,
        lambda prompt, _: prompt.answer + 3,
        lambda prompt, _: max(prompt.numbers, default=prompt.answer) + 2,
        lambda prompt, again: prompt.answer + 10 if again.random() < 0.6 else prompt.answer,
    ]
    rule = chance.choice(rules)

    def answer(prompt: Prompt, again: random.Random) -> Answer:
        return rule(prompt, again) if is_number(prompt) else guess(prompt, again)

    return answer

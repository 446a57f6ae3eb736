"""How well chosen sets name a mistake, tried on made-up children."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tasks.numberwork.chance import Chance
from tasks.numberwork.making import make_prompts, prompt_of
from tasks.numberwork.mistakes.model import alike
from tasks.numberwork.mistakes.spotting import spot_mistakes
from tasks.numberwork.pool import NONE, pool_of
from tasks.numberwork.prompt import CORE, Answer, Prompt


@dataclass(frozen=True, slots=True)
class Outcome:
    """Of so many made-up children, for how many the first-ranked hypothesis was the true one.

    chosen: with the sets make_prompts gives; at_random: with sets drawn blindly from the pool.
    """

    kind: str
    children: int
    chosen: int
    at_random: int


def simulate(
    kind: str,
    within: int,
    count: int = 8,
    children: int = 1000,
    seed: int = 0,
    slip: float = 0.1,
    depth: str = CORE,
) -> Outcome:
    """Try *children* made-up children on sets of *count* prompts.

    Each has one mistake of the kind that can show in the range, or none, all equally often, and
    in *slip* of the answers gives some other answer. Raises ValueError as make_prompts does.
    """
    chance = Chance("simulation", kind, within, count, children, seed, depth)
    pool = pool_of(kind, within, depth)
    shown = {name for ask in pool.asks for name in ask.mistakes}
    truths = [NONE, *(name for name in pool.kind.mistakes if name in shown)]
    right = {"chosen": 0, "at_random": 0}
    for child in range(children):
        truth = chance.choice(truths)
        places = chance.shuffled(range(len(pool.asks)))[:count]
        blind = tuple(prompt_of(pool.kind, pool.asks[place], within, depth) for place in places)
        chosen = make_prompts(kind, within, count, seed + child, depth=depth)
        for name, prompts in (("chosen", chosen), ("at_random", blind)):
            answers = [_answer(prompt, truth, slip, chance) for prompt in prompts]
            right[name] += _first_named(prompts, answers) == _taken_for(prompts, truth)
    return Outcome(kind, children, right["chosen"], right["at_random"])


def _first_named(prompts: Sequence[Prompt], answers: Sequence[Answer | None]) -> str:
    """Return the first-ranked of none and single mistakes, whether or not it is sure.

    These children neither guess nor have two mistakes at once: that is left out of the ranking.
    """
    findings = spot_mistakes(prompts, answers)
    return next(one.mistake for one in findings if one.is_mistake or one.mistake == NONE)


def _taken_for(prompts: Sequence[Prompt], truth: str) -> str:
    """Return what a mistake can be named at most: a miscount where that gives the same answers."""
    if truth == NONE:
        return NONE
    return alike(prompts).get((prompts[0].kind, truth), ("", NONE))[1]


def _answer(prompt: Prompt, mistake: str, slip: float, chance: Chance) -> Answer:
    """Answer as a child with this mistake does, slipping now and then."""
    meant = prompt.mistakes.get(mistake, prompt.answer)
    if chance.below(1000) >= slip * 1000:
        return meant
    others: list[Answer] = [choice for choice in prompt.choices if choice != meant]
    if isinstance(prompt.answer, int) and not others:
        others = [number for number in range(prompt.within + 1) if number != meant]
    others += [answer for answer in prompt.mistakes.values() if answer != meant]
    return chance.choice(others) if others else meant

"""Which one prompt to ask next, to tell what lies behind answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import log

from tasks.numberwork.kind import Ask
from tasks.numberwork.kinds import KINDS
from tasks.numberwork.making import prompt_of
from tasks.numberwork.mistakes.model import Key
from tasks.numberwork.mistakes.wording import words_of_mistake
from tasks.numberwork.pool import STEPS, Pool, number_of, pool_of
from tasks.numberwork.prompt import Answer, Prompt

NEAR = 2  # away from the right answer: what a slip gives as easily


@dataclass(frozen=True, slots=True)
class Telling:
    """A single wrong answer that one mistake alone explains, and one more prompt like it."""

    name: str
    sentence: str
    next_prompt: Prompt | None


def one_telling(prompts: Sequence[Prompt], answers: Sequence[Answer | None]) -> Telling | None:
    """Read the only wrong answer where one mistake alone gives it, and no slip near by does."""
    wrong = [
        (prompt, answer)
        for prompt, answer in zip(prompts, answers, strict=True)
        if answer is not None and answer not in prompt.right_answers
    ]
    if len(wrong) != 1:
        return None
    prompt, answer = wrong[0]
    name = _only_mistake(prompt.answer, prompt.mistakes, answer)
    if name is None or number_of(prompt) is None:
        return None
    written = prompt.sentence
    said = written.replace("□", f"{answer}") if "□" in written else f"{written} {answer}"
    sentence = f"{said}: “{words_of_mistake(prompt.kind, name)}” gives this."
    following = _one_like_it(prompts, prompt, name)
    if following is not None:
        sentence += f" Ask one more like it: {following.sentence}"
    return Telling(name, sentence, following)


def _only_mistake(right: Answer, mistakes: Mapping[str, Answer], answer: Answer) -> str | None:
    """Name the mistake which alone leads to an answer that is not near the right one."""
    names = [name for name, wrong in mistakes.items() if wrong == answer]
    if len(names) != 1 or names[0] in STEPS:
        return None
    if isinstance(right, int) and isinstance(answer, int) and abs(answer - right) <= NEAR:
        return None
    return names[0]


def _one_like_it(prompts: Sequence[Prompt], like: Prompt, name: str) -> Prompt | None:
    """Find a prompt in the same form, not asked yet, on which the mistake is as telling."""
    if like.kind not in KINDS:
        return None
    pool = pool_of(like.kind, like.within, like.depth)
    fitting = [
        (ask.form != like.form, _far(ask, like), place)
        for place, ask in _not_asked(pool, prompts)
        if name in ask.mistakes and _only_mistake(ask.answer, ask.mistakes, ask.mistakes[name])
    ]
    if not fitting:
        return None
    return prompt_of(pool.kind, pool.asks[min(fitting)[2]], like.within, like.depth)


def _far(ask: Ask, like: Prompt) -> int:
    """Return how far the numbers of a question are from those of a prompt."""
    return sum(abs(one - other) for one, other in zip(ask.numbers, like.numbers, strict=False))


def _not_asked(pool: Pool, prompts: Sequence[Prompt]) -> Iterator[tuple[int, Ask]]:
    """List the questions of a pool that are about none of the facts asked already."""
    asked = {prompt.key.rpartition("/")[0] for prompt in prompts}
    return (
        (place, ask)
        for place, (ask, fact) in enumerate(zip(pool.asks, pool.facts, strict=True))
        if fact not in asked
    )


def most_telling(prompts: Sequence[Prompt], chances: Mapping[Key | str, float]) -> Prompt | None:
    """Find the further prompt whose answer is expected to settle most, smaller numbers first."""
    asked = {prompt.key for prompt in prompts}
    best, most = None, 1e-9
    for source in dict.fromkeys((prompt.kind, prompt.within, prompt.depth) for prompt in prompts):
        if source[0] not in KINDS:
            continue  # Gone since: there is no further prompt of it.
        pool = pool_of(*source)
        one_of_each = {
            mask: place
            for place, mask in reversed(tuple(enumerate(pool.masks)))
            if pool.keys[place] not in asked
        }
        for place in one_of_each.values():
            ask = pool.asks[place]
            settled = _settled(source[0], ask, chances)
            if settled > most:
                best, most = prompt_of(pool.kind, ask, source[1], source[2]), settled
    return best


def _settled(kind: str, ask: Ask, chances: Mapping[Key | str, float]) -> float:
    """Return the expected fall of entropy when a prompt is answered without a slip."""
    groups: dict[Answer, float] = {}
    for name, chance in chances.items():
        answer = ask.answer
        if isinstance(name, tuple) and name[0] == kind:
            step = STEPS.get(name[1])
            plain = answer + step if step and isinstance(answer, int) else answer
            answer = ask.mistakes.get(name[1], plain)
        groups[answer] = groups.get(answer, 0.0) + chance
    return -sum(chance * log(chance) for chance in groups.values() if chance > 0)

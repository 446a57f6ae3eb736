"""Which mistake may lie behind a set of answers: a suggestion for a teacher, never a verdict.

The model, all of it stated and none of it measured on children:

- Before any answer is seen, no mistake has probability `PRIOR_NONE`, answers without one pattern
  `PRIOR_UNCLEAR`, and the kind's mistakes share the rest equally.
- A child with one mistake gives the answer that mistake leads to; where it leads nowhere wrong,
  the right answer. One time in ten (`SLIP`) the child gives some other answer.
- Some other answer is, half of the time, one or two away from the right one; otherwise any answer
  a child might give: 0 to the range, and all the answers any mistake leads to. For words, signs
  and letters it is any of the choices.
- Answers without one pattern are all of that second sort.
- A mistake that none of the prompts can show is left out: these prompts say nothing of it.
- Blanks say nothing. A right answer to an open question is right, whichever it is.

Where nothing reaches `SURE`, the first finding is "cannot tell yet" with the one further prompt
expected to tell most (largest expected fall of entropy).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import exp, log

from tasks.numberwork.kinds import KINDS, kind_kept
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import NONE, pool_of
from tasks.numberwork.prompt import Answer, Prompt

PRIOR_NONE = 0.6
PRIOR_UNCLEAR = 0.05
SLIP = 0.1
NEAR = 0.5
SURE = 0.75
UNCLEAR = "no one pattern"
CANNOT_TELL = "cannot tell yet"


@dataclass(frozen=True, slots=True)
class Finding:
    """What may lie behind the answers, how probable that is, and which prompts show it.

    mistake: a name of the kind, "none", "no one pattern" or "cannot tell yet".
    shown_by: indexes of the prompts. sentence: for a teacher. next_prompt: only with
    "cannot tell yet", the prompt to ask next, or None where no other exists.
    """

    mistake: str
    probability: float
    shown_by: tuple[int, ...]
    sentence: str
    next_prompt: Prompt | None = None


def spot_mistakes(
    prompts: Sequence[Prompt], answers: Sequence[Answer | None]
) -> tuple[Finding, ...]:
    """Rank what may lie behind answers to prompts, most probable first.

    answers: one per prompt, as `read_answer` gives them; None where nothing was answered.
    Probabilities of all findings but "cannot tell yet" add up to 1.
    Raises ValueError where the numbers of prompts and answers differ.
    """
    if len(prompts) != len(answers):
        raise ValueError(f"answers must be {len(prompts)}, one per prompt, not {len(answers)}")
    answered = [place for place, answer in enumerate(answers) if answer is not None]
    chances = _posterior(prompts, answers)
    findings = [_finding(name, chances[name], prompts, answers, answered) for name in chances]
    findings.sort(key=lambda finding: -finding.probability)
    first = findings[0]
    if not answered or first.probability < SURE or first.mistake == UNCLEAR:
        findings.insert(0, _cannot_tell(prompts, chances, len(answered)))
    return tuple(findings)


def tell_apart(prompts: Sequence[Prompt]) -> tuple[tuple[str, str], ...]:
    """List the pairs of hypotheses ("none" or a mistake) that these prompts cannot tell apart."""
    return tuple(
        (one, other)
        for one, other in combinations(_names(prompts), 2)
        if all(_predicted(prompt, one) == _predicted(prompt, other) for prompt in prompts)
    )


def labels(prompt: Prompt, answer: Answer | None) -> tuple[str, ...]:
    """Name every mistake that leads to this answer: none for a right answer or a blank.

    Where several lead to it all are named; one alone would claim more than is known.
    """
    return tuple(name for name, wrong in prompt.mistakes.items() if wrong == answer)


def _names(prompts: Sequence[Prompt]) -> tuple[str, ...]:
    """List "none" and the mistakes of the prompts' kinds."""
    mistakes = (name for prompt in prompts for name in _mistakes_of(prompt))
    return (NONE, *dict.fromkeys(mistakes))


def _mistakes_of(prompt: Prompt) -> Mapping[str, str]:
    """Return the mistakes a prompt can show, in words; by their names where its kind lost them.

    A prompt that was kept may speak of mistakes which its kind does not know any more.
    """
    return {**{name: name for name in prompt.mistakes}, **kind_kept(prompt.kind).mistakes}


def _predicted(prompt: Prompt, name: str) -> Answer:
    """Return what a child with this hypothesis answers."""
    return prompt.mistakes.get(name, prompt.answer)


def _posterior(prompts: Sequence[Prompt], answers: Sequence[Answer | None]) -> dict[str, float]:
    """Work out the probability of each hypothesis from the answers."""
    shown = {name for prompt in prompts for name in prompt.mistakes}
    names = [name for name in _names(prompts) if name == NONE or name in shown]
    share = (1 - PRIOR_NONE - PRIOR_UNCLEAR) / max(1, len(names) - 1)
    logs = {name: log(PRIOR_NONE if name == NONE else share) for name in names}
    logs[UNCLEAR] = log(PRIOR_UNCLEAR)
    for prompt, answer in zip(prompts, answers, strict=True):
        if answer is None:
            continue
        if answer in prompt.right_answers:
            answer = prompt.answer
        other = _other_answer(prompt, answer)
        spread = 1 / _plausible(prompt, answer)
        for name in names:
            expected = _predicted(prompt, name) == answer
            logs[name] += log((1 - SLIP) * expected + SLIP * other)
        logs[UNCLEAR] += log(spread)
    most = max(logs.values())
    weights = {name: exp(value - most) for name, value in logs.items()}
    total = sum(weights.values())
    return {name: weight / total for name, weight in weights.items()}


def _plausible(prompt: Prompt, answer: Answer) -> int:
    """Count the answers a child might give to a prompt, this one included."""
    if prompt.choices:
        return len({*prompt.choices, answer})
    named = {answer, prompt.answer, *prompt.mistakes.values()}
    if not isinstance(prompt.answer, int):
        return len(named) + prompt.within
    outside = {one for one in named if not isinstance(one, int) or one > prompt.within}
    return prompt.within + 1 + len(outside)


def _other_answer(prompt: Prompt, answer: Answer) -> float:
    """Return the chance that a slip of the child gives just this answer."""
    even = 1 / _plausible(prompt, answer)
    right = prompt.answer
    if prompt.choices or not isinstance(right, int) or isinstance(right, bool):
        return even
    near = [right + step for step in (-2, -1, 1, 2) if right + step >= 0]
    return NEAR * (answer in near) / len(near) + (1 - NEAR) * even


def _finding(
    name: str,
    probability: float,
    prompts: Sequence[Prompt],
    answers: Sequence[Answer | None],
    answered: Sequence[int],
) -> Finding:
    """Put one hypothesis into words, with the prompts that show it."""
    right = [place for place in answered if answers[place] in prompts[place].right_answers]
    if name == UNCLEAR:
        wrong = tuple(place for place in answered if place not in right)
        return Finding(name, probability, wrong, "The answers follow no one pattern.")
    if name == NONE:
        sentence = f"Right in {len(right)} of {len(answered)}; no mistake keeps coming back."
        return Finding(name, probability, tuple(right), sentence)
    could = [place for place in answered if name in prompts[place].mistakes]
    shown = tuple(place for place in could if prompts[place].mistakes[name] == answers[place])
    words = next(_mistakes_of(prompt)[name] for prompt in prompts if name in prompt.mistakes)
    return Finding(name, probability, shown, f"{words} in {len(shown)} of {len(could)}.")


def _cannot_tell(prompts: Sequence[Prompt], chances: dict[str, float], answered: int) -> Finding:
    """Say that nothing is probable enough yet, and which prompt to ask next."""
    following = _most_telling(prompts, chances)
    sentence = "No answers yet." if not answered else "These answers could mean several things."
    if following is not None:
        sentence += f" One more question would tell most: {following.sentence}"
    doubt = 1 - max(chance for name, chance in chances.items() if name != UNCLEAR)
    return Finding(CANNOT_TELL, doubt, (), sentence, following)


def _most_telling(prompts: Sequence[Prompt], chances: dict[str, float]) -> Prompt | None:
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
            settled = _settled(ask.answer, ask.mistakes, chances)
            if settled > most:
                best, most = prompt_of(pool.kind, ask, source[1], source[2]), settled
    return best


def _settled(right: Answer, mistakes: Mapping[str, Answer], chances: dict[str, float]) -> float:
    """Return the expected fall of entropy when a prompt is answered without a slip."""
    groups: dict[Answer, float] = {}
    for name, chance in chances.items():
        answer = mistakes.get(name, right)
        groups[answer] = groups.get(answer, 0.0) + chance
    return -sum(chance * log(chance) for chance in groups.values() if chance > 0)

"""Which mistake may lie behind a set of answers: a suggestion for a teacher, never a verdict.

What is reckoned with, and how, is stated in `model`; how common each thing is, in `shares`. A
mistake is named only where

- it, alone or beside one other, reaches `SURE`;
- not all answers that fit it are what a plain miscount gives as well: such answers are said to be
  one too few (or too many), with what that may be;
- a child who is off by one by chance, or who guesses among choices, would give answers as
  one-sided in at most `BY_CHANCE` of sets (`by_chance`).

Otherwise the first finding is "cannot tell yet", with the one further prompt expected to tell most
(largest expected fall of entropy), or, after a single wrong answer that one mistake alone explains,
one more prompt like it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TypeAlias

from tasks.numberwork.kinds import kind_kept
from tasks.numberwork.mistakes.by_chance import (
    all_off_by_chance,
    guessed_as_well,
    one_sided_by_chance,
)
from tasks.numberwork.mistakes.following import Telling, most_telling, one_telling
from tasks.numberwork.mistakes.model import (
    EITHER_WAY,
    GUESSING,
    MORE,
    NEAR_BY,
    PLAIN,
    UNCLEAR,
    Key,
    alike,
    likelihoods,
    posterior,
    see,
)
from tasks.numberwork.mistakes.shares import Weighed, assumed, for_set
from tasks.numberwork.mistakes.wording import miscount_sentence, words_of_mistake
from tasks.numberwork.pool import NONE, STEPS
from tasks.numberwork.prompt import Answer, Prompt

SURE = 0.75
CANNOT_TELL = "cannot tell yet"
Weights: TypeAlias = dict[Key | str, float]


@dataclass(frozen=True, slots=True)
class Finding:
    """What may lie behind the answers, how probable that is, and which prompts show it.

    mistake: a name of the kind, a plain miscount, "cannot tell yet" or a name of `model.PLAIN`.
    shown_by: indexes of the prompts. sentence: for a teacher, with counts. next_prompt: the prompt
    to ask next, with "cannot tell yet" or after one telling answer. kind: whose mistake it is,
    "" where it is none.
    """

    mistake: str
    probability: float
    shown_by: tuple[int, ...]
    sentence: str
    next_prompt: Prompt | None = None
    kind: str = ""

    @property
    def is_mistake(self) -> bool:
        """Tell whether this names a mistake of a kind, or a miscount."""
        return bool(self.kind)


def spot_mistakes(
    prompts: Sequence[Prompt],
    answers: Sequence[Answer | None],
    shares: Mapping[Key | str, float] | None = None,
) -> tuple[Finding, ...]:
    """Rank what may lie behind answers to prompts, most probable first.

    answers: one per prompt, as `read_answer` gives them; None where nothing was answered.
    shares: how common each thing is, where a school has learned that; else as is assumed.
    Probabilities of all findings but "cannot tell yet" add up to 1.
    Raises ValueError where the numbers of prompts and answers differ.
    """
    if len(prompts) != len(answers):
        raise ValueError(f"answers must be {len(prompts)}, one per prompt, not {len(answers)}")
    work = _Work(prompts, answers)
    chances = _named_alone_or_beside(work, work.weigh(shares))
    findings = [work.finding(name, chance) for name, chance in chances.items()]
    findings.sort(key=lambda finding: -finding.probability)
    telling = one_telling(prompts, answers)
    if work.cannot_tell(findings[0]):
        findings.insert(0, work.unsure(chances, telling))
    elif telling and findings[0].mistake == NONE:
        findings[0] = replace(
            findings[0],
            sentence=f"{findings[0].sentence} {telling.sentence}",
            next_prompt=telling.next_prompt,
        )
    return tuple(findings)


def weighed(prompts: Sequence[Prompt], answers: Sequence[Answer | None]) -> Weighed:
    """Weigh a set's answers for `shares.learn`; arguments as of `spot_mistakes`."""
    return _Work(prompts, answers).weighed


def nameable(prompts: Sequence[Prompt]) -> frozenset[Key]:
    """Name the mistakes that answers to *prompts* can tell, whatever the answers.

    Left out is what too few prompts can never tell from chance, and a mistake which gives the same
    as a miscount.
    """
    keys = frozenset(alike(prompts).values())
    if guessed_as_well(prompts, len(prompts), len(keys)):
        return frozenset()
    seen = [see(prompt, prompt.answer) for prompt in prompts]
    return frozenset(
        key
        for key in keys
        if key[1] not in STEPS or not all_off_by_chance(sum(key in one.shows for one in seen))
    )


def tell_apart(prompts: Sequence[Prompt]) -> tuple[tuple[str, str], ...]:
    """List the pairs of hypotheses ("none" or a mistake) that these prompts cannot tell apart."""
    mistakes = (name for prompt in prompts for name in kind_kept(prompt.kind).mistakes)
    return tuple(
        (one, other)
        for one, other in combinations((NONE, *dict.fromkeys(mistakes)), 2)
        if all(_predicted(prompt, one) == _predicted(prompt, other) for prompt in prompts)
    )


def _predicted(prompt: Prompt, name: str) -> Answer:
    """Return what a child with this hypothesis answers."""
    return prompt.mistakes.get(name, prompt.answer)


def labels(prompt: Prompt, answer: Answer | None) -> tuple[str, ...]:
    """Name every mistake that leads to this answer: none for a right answer or a blank.

    Where several lead to it all are named; one alone would claim more than is known.
    """
    return tuple(name for name, wrong in prompt.mistakes.items() if wrong == answer)


class _Work:
    """One set as it was answered, blanks left out; places are indexes in the whole set."""

    def __init__(self, prompts: Sequence[Prompt], answers: Sequence[Answer | None]) -> None:
        self.asked = prompts
        given = [(place, answer) for place, answer in enumerate(answers) if answer is not None]
        self.places = [place for place, _ in given]
        self.prompts = [prompts[place] for place in self.places]
        self.seen = [see(prompts[place], answer) for place, answer in given]
        self.alike = alike(self.prompts)
        self.weighed = Weighed(likelihoods(self.prompts, self.seen), self.alike)
        self.right = tuple(p for p, s in zip(self.places, self.seen, strict=True) if s.right)
        self.wrong = tuple(p for p, s in zip(self.places, self.seen, strict=True) if not s.right)

    def weigh(self, shares: Mapping[Key | str, float] | None) -> Weights:
        """Work out the probability of each hypothesis from the answers."""
        if shares is None:
            shares = assumed(prompt.kind for prompt in self.asked)
        return posterior(self.weighed.chances, for_set(shares, self.weighed))

    def fitting(self, key: Key) -> tuple[int, ...]:
        """List the places whose answers a mistake explains."""
        return tuple(p for p, s in zip(self.places, self.seen, strict=True) if key in s.fits)

    def finding(self, name: Key | str, chance: float) -> Finding:
        """Put one hypothesis into words, with the prompts that show it."""
        if isinstance(name, tuple):
            return self._mistake(name, chance)
        wrong, answered = len(self.wrong), len(self.places)
        shown = self.right if name == NONE else self.wrong
        sentence = {
            NONE: f"Right in {answered - wrong} of {answered}; no mistake keeps coming back.",
            NEAR_BY: f"A little off in {wrong} of {answered}, in no one way.",
            EITHER_WAY: f"One off in {wrong} of {answered}, some too few and some too many.",
            GUESSING: f"Right in {answered - wrong} of {answered}; they may be guesses.",
            UNCLEAR: "The answers follow no one pattern.",
        }.get(name) or self._more_than_one()
        return Finding(name, chance, shown, sentence)

    def _mistake(self, key: Key, chance: float) -> Finding:
        kind, name = key
        could = sum(key in one.shows for one in self.seen)
        shown = self.fitting(key)
        counts = f"{len(shown)} of {could}"
        if name in STEPS:
            also = [other[1] for other, same in self.alike.items() if same == key and other != key]
            sentence = miscount_sentence(kind, name, counts, also)
        else:
            sentence = f"{words_of_mistake(kind, name)} in {counts}."
        return Finding(name, chance, shown, sentence, kind=kind)

    def _more_than_one(self) -> str:
        """Say which mistakes explain most answers, where it is more than one."""
        by_count = sorted(
            ((len(self.fitting(key)), key) for key in dict.fromkeys(self.alike.values())),
            key=lambda pair: -pair[0],
        )
        said = [f"{words_of_mistake(*key)} ({count})" for count, key in by_count[:2] if count]
        return f"More than one thing: {'; '.join(said)}."

    def cannot_tell(self, first: Finding) -> bool:
        """Tell whether the first-ranked finding may not be said."""
        if not self.places or first.probability < SURE or first.mistake in (GUESSING, UNCLEAR):
            return True
        key = (first.kind, first.mistake)
        if first.mistake == MORE:
            return guessed_as_well(self.prompts, len(self.wrong), 1)
        if not first.is_mistake:
            return False
        if first.mistake in STEPS:
            return one_sided_by_chance(self.seen, STEPS[first.mistake])
        only_miscounts = all(one.step in (-1, 1) for one in self.seen if key in one.fits)
        return only_miscounts or guessed_as_well(
            self.prompts,
            sum(self._as_expected(place, key) for place in range(len(self.seen))),
            len(set(self.alike.values())),
        )

    def _as_expected(self, place: int, key: Key) -> bool:
        seen = self.seen[place]
        return key in seen.fits or (seen.right and key not in seen.shows)

    def unsure(self, chances: Weights, telling: Telling | None) -> Finding:
        """Say that nothing is probable enough yet, and which prompt to ask next."""
        doubt = 1 - max(chance for name, chance in chances.items() if name != UNCLEAR)
        if telling:
            return Finding(CANNOT_TELL, doubt, self.wrong, telling.sentence, telling.next_prompt)
        following = most_telling(self.asked, chances)
        sentence = self._so_far()
        if following is not None:
            sentence += f" One more question would tell most: {following.sentence}"
        return Finding(CANNOT_TELL, doubt, (), sentence, following)

    def _so_far(self) -> str:
        """Say what is seen where nothing can be named: a one-sided miscount, or nothing clear."""
        if not self.places:
            return "No answers yet."
        steps = {one.step for one in self.seen if not one.right}
        for name, by in STEPS.items():
            if steps == {by} and len(self.wrong) > 1:
                key = (self.prompts[0].kind, name)
                return self._mistake(key, 0).sentence
        return "These answers could mean several things."


def _named_alone_or_beside(work: _Work, chances: Weights) -> Weights:
    """Count a mistake that is likely to be there, alone or beside another, as that mistake.

    Where nothing reaches `SURE`, and one mistake does together with the pairs that it is in, the
    pairs' share is given to it.
    """
    mistakes = {name: chance for name, chance in chances.items() if name not in PLAIN}
    if MORE not in chances or not mistakes or max(chances.values()) >= SURE:
        return chances
    first = max(mistakes, key=lambda name: mistakes[name])
    if mistakes[first] + chances[MORE] < SURE or not isinstance(first, tuple):
        return chances
    if len(work.fitting(first)) * 2 <= len(work.wrong):
        return chances
    return {**chances, first: mistakes[first] + chances[MORE], MORE: 0.0}

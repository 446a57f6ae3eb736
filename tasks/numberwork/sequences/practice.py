"""Drawing a set for practice: the whole set, facts that come back in another dress, easy first."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from tasks.numberwork.chance import Chance
from tasks.numberwork.ease import ease, with_nothing
from tasks.numberwork.making import check_arguments, prompt_of
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import DEPTHS, Prompt
from tasks.numberwork.sequences.only import EVERYTHING, Only
from tasks.numberwork.sets import choose_set

OTHER_FACTS = len(DEPTHS) + 1  # the rank of other facts: after all dresses of those that fit
RUN = 4  # answers that rise or fall by the same step, one after the other, are a plain count
LEAST_NUMBER = 2  # of the day: about 0 and 1 there is little to show, unless a teacher chooses them


@dataclass(frozen=True, slots=True)
class Choice:
    """What to draw: a kind, one of its ranges, how many (1 or more), a depth, and what of it.

    number: what a kind about one number is about, where that was chosen.
    """

    kind: str
    within: int
    count: int
    depth: str
    number: int | None = None
    only: Only = EVERYTHING


@dataclass(frozen=True, slots=True)
class Before:
    """What was asked before a set is drawn.

    today: keys of prompts that whoever gets the set is asked on the same day: none comes again.
    lately: dresses (`dress_of`) that were asked within days, longest ago first: others come first.
    back: facts, as "kind/fact", of which some are to come back in another dress; again: dresses
    that may come back as they are where there is no other.
    """

    today: Collection[str] = ()
    lately: Sequence[str] = ()
    back: Collection[str] = ()
    again: Collection[str] = ()


NOTHING_BEFORE = Before()


@dataclass(frozen=True, slots=True)
class Place:
    """Where a question stands: a depth and a place in its pool; rank: how well it fits, 0 best."""

    depth: str
    place: int
    key: str
    rank: int

    @property
    def dress(self) -> str:
        """Name the question with what it looks like."""
        return f"{self.key}@{self.depth}"

    @property
    def fact(self) -> str:
        """Return its fact as "kind/fact"."""
        return self.key.rpartition("/")[0]


def dress_of(prompt: Prompt) -> str:
    """Name a prompt with what it looks like: at each depth a question has another picture."""
    return f"{prompt.key}@{prompt.depth}"


def practise(choice: Choice, seed: int, before: Before = NOTHING_BEFORE) -> tuple[Prompt, ...]:
    """Draw the set of *choice*, from easy to hard; equal arguments give equal sets.

    The set has all its prompts as long as the kind has as many in this range. Where *choice.only*
    and the depth have too few, other forms of the same facts come in, then other facts (not where
    facts were chosen), and what is harder last. About half of the facts are of *before.back*, in a
    dress not asked lately where there is one; a dress comes again only where nothing else is left,
    the one asked longest ago first.

    Raises ValueError as make_prompts does, and where not one prompt is left.
    """
    kind = check_arguments(
        choice.kind, choice.within, choice.count, seed, choice.depth, choice.number
    )
    chance = Chance("practice", choice.kind, choice.within, choice.depth, choice.count, seed)
    if kind.one_number and choice.number is None:
        choice = replace(choice, number=_a_number(choice, chance, before))
    best = _fitting(choice, before.today)
    chosen = (
        _with_room(best, before)[: choice.count]
        if len(best) <= choice.count
        else _pick(choice, best, chance, before)
    )
    if missing := choice.count - len(chosen):
        others = _others(choice, {*before.today, *(each.key for each in chosen)})
        chosen = [*chosen, *_more(choice, others, missing, chance, before)]
    if not chosen:
        raise ValueError(
            f"count must be at most 0: {choice.kind} within {choice.within} ({choice.depth}) has "
            f"no prompts left, not {choice.count}"
        )
    asks = {depth: pool_of(choice.kind, choice.within, depth).asks for depth in DEPTHS}
    prompts = [
        prompt_of(
            kind,
            asks[each.depth][each.place],
            choice.within,
            each.depth,
            chance.below(kind.variants),
        )
        for each in chance.shuffled(chosen)
    ]
    return _no_count(sorted(prompts, key=from_easy_to_hard))


def from_easy_to_hard(prompt: Prompt) -> tuple[bool, tuple[bool, int, int], int]:
    """Return where *prompt* stands in a set for practice: sort by it."""
    return with_nothing(prompt), ease(prompt), DEPTHS.index(prompt.depth)


def _no_count(prompts: list[Prompt]) -> tuple[Prompt, ...]:
    """Let neighbours change places, after the first, where the answers would be a plain count.

    Half of 4, 6, 8 and 10 are two, three, four and five: who only counts on is right each time
    (common practice, no source).
    """
    answers = [each.answer if isinstance(each.answer, int) else 0 for each in prompts]
    steps = [after - before for before, after in pairwise(answers)]
    runs = (steps[at : at + RUN - 1] for at in range(len(prompts) - RUN + 1))
    if not any(len(set(run)) == 1 and run[0] for run in runs):
        return tuple(prompts)
    first, *rest = prompts
    pairs = [rest[at : at + 2] for at in range(0, len(rest), 2)]
    return (first, *(each for pair in pairs for each in reversed(pair)))


def _a_number(choice: Choice, chance: Chance, before: Before) -> int:
    """Draw the number of a set about one: with enough to ask, and none of lately if it can be."""
    asks = pool_of(choice.kind, choice.within, choice.depth).asks
    counts: dict[int, int] = {}
    for ask in asks:
        if choice.only.allows(ask) and ask.numbers[0] >= LEAST_NUMBER:
            counts[ask.numbers[0]] = counts.get(ask.numbers[0], 0) + 1
    counts = counts or dict.fromkeys((ask.numbers[0] for ask in asks), choice.count)
    most = max(counts.values())
    full = [number for number, there in counts.items() if there >= min(choice.count, most)]
    last = {_number_of(dress): turn for turn, dress in enumerate(before.lately)}
    fresh = [number for number in full if number not in last]
    return chance.choice(fresh) if fresh else min(full, key=lambda number: last[number])


def _number_of(dress: str) -> int:
    """Return the number that a prompt of a set about one is about: its fact begins with it."""
    digits = dress.split("/")[1].partition(":")[0]
    return int(digits) if digits.isdecimal() else 0


def _fitting(choice: Choice, today: Collection[str]) -> list[Place]:
    """List the questions of its depth that *choice* allows and that are not asked today."""
    pool = pool_of(choice.kind, choice.within, choice.depth)
    return [
        Place(choice.depth, place, pool.keys[place], 0)
        for place, ask in enumerate(pool.asks)
        if choice.number in (None, *ask.numbers[:1])
        and choice.only.allows(ask)
        and pool.keys[place] not in today
    ]


def _with_room(best: list[Place], before: Before) -> list[Place]:
    """Leave one out where all were asked lately, so that not every day asks the same."""
    asked = {dress: turn for turn, dress in enumerate(before.lately)}
    if len(best) < 2 or not all(each.dress in asked for each in best):
        return best
    return sorted(best, key=lambda each: asked[each.dress])[:-1]


def _others(choice: Choice, asked: Collection[str]) -> list[Place]:
    """List the other questions that a set can be filled up with, each with how well it fits.

    A fact that was chosen keeps the others out.
    """
    only, own = choice.only, DEPTHS.index(choice.depth)
    found = []
    for far, depth in ((abs(DEPTHS.index(depth) - own), depth) for depth in DEPTHS):
        pool = pool_of(choice.kind, choice.within, depth)
        for place, ask in enumerate(pool.asks):
            if pool.keys[place] in asked or choice.number not in (None, *ask.numbers[:1]):
                continue
            if only.facts and ask.fact not in only.facts:
                continue
            rank = far + (1 if only.allows_whatever_the_form(ask) else OTHER_FACTS)
            found.append(Place(depth, place, pool.keys[place], rank))
    return found


def _pick(choice: Choice, best: Sequence[Place], chance: Chance, before: Before) -> list[Place]:
    """Pick as many of the *best* as are wanted, which are more: as `practise` says."""
    pool = pool_of(choice.kind, choice.within, choice.depth)
    count, asked = choice.count, {dress: turn for turn, dress in enumerate(before.lately)}
    by_place = {each.place: each for each in best}
    fresh = [each for each in best if each.dress not in asked]
    returning = [each.place for each in fresh if each.fact in before.back]
    wanted = min(len({pool.facts[place] for place in returning}), count // 2)
    first = choose_set(pool, returning, wanted, chance, set()) if wanted else []
    same = [each.place for each in best if each.dress in before.again]
    same = sorted(chance.shuffled(same), key=lambda place: pool.facts[place] not in before.back)
    first += same[: count // 2 - len(first)]
    picked = {pool.facts[place] for place in first}
    rest = [each.place for each in fresh if each.fact not in picked]
    if len(rest) < count - len(first):
        rest = [each.place for each in fresh if each.place not in first]
    missing = count - len(first)
    if len(rest) < missing:
        stale = [each for each in best if each.dress in asked and each.place not in first]
        stale.sort(key=lambda each: asked[each.dress])
        rest += [each.place for each in stale[: missing - len(rest)]]
    chosen = choose_set(pool, rest, missing, chance, set(before.back) | picked, first)
    return [by_place[place] for place in (*first, *chosen)]


def _more(
    choice: Choice, others: Sequence[Place], missing: int, chance: Chance, before: Before
) -> list[Place]:
    """Fill a set up: nothing harder while there is anything else, and what fits best first."""
    asked = {dress: turn for turn, dress in enumerate(before.lately)}
    own = DEPTHS.index(choice.depth)
    left = chance.shuffled(others)
    left.sort(
        key=lambda each: (
            DEPTHS.index(each.depth) > own,
            each.rank >= OTHER_FACTS,
            asked.get(each.dress, -1),
            each.rank,
        )
    )
    found: dict[str, Place] = {}
    for each in left:
        if len(found) < missing:
            found.setdefault(each.key, each)
    return list(found.values())

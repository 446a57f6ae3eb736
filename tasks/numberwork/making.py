"""Making a set of prompts: the same arguments give the same set, everywhere."""

from __future__ import annotations

from collections.abc import Iterable

from tasks.numberwork.chance import Chance
from tasks.numberwork.ease import ease
from tasks.numberwork.kind import Ask, Kind
from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.pool import Pool, pool_of
from tasks.numberwork.prompt import CORE, DEPTHS, Prompt
from tasks.numberwork.sets import choose_set
from tasks.numberwork.words import said, written

MOST = 100  # prompts in one set


def make_prompts(
    kind: str,
    within: int,
    count: int,
    seed: int,
    avoid: Iterable[Prompt | str] = (),
    depth: str = CORE,
    number: int | None = None,
) -> tuple[Prompt, ...]:
    """Make *count* different prompts of a kind that tell the kind's mistakes apart.

    kind: a name in EVERY_KIND. within: one of the kind's ranges; no number and no answer is larger.
    count: 1 to 100. seed: any whole number. avoid: prompts, or their keys, not to ask again;
    facts they ask about come back only when no other is left. depth: one of DEPTHS.
    number: what a set of a kind about one number is about, 1 to *within*; drawn if not given.
    The choice is described in `choosing`, the order, from easy to hard, in `ease`. Equal arguments
    give equal prompts.

    Raises ValueError naming the argument and what is allowed; also when there are fewer than
    *count* prompts, saying how many there are.
    """
    known = check_arguments(kind, within, count, seed, depth, number)
    pool = pool_of(kind, within, depth)
    chance = Chance(kind, within, depth, count, seed)
    avoided = {prompt if isinstance(prompt, str) else prompt.key for prompt in avoid}
    allowed = _allowed(pool, avoided, number)
    seen = {key.rpartition("/")[0] for key in avoided}
    if known.one_number:
        allowed = _of_one_number(pool, allowed, count, chance, avoided)
    if len(allowed) < count:
        there = how_many(kind, within, depth, number=number)
        raise ValueError(_too_few(pool, within, depth, count, there, len(allowed), bool(avoided)))
    chosen = chance.shuffled(choose_set(pool, allowed, count, chance, seen))
    prompts = [
        prompt_of(known, pool.asks[place], within, depth, chance.below(known.variants))
        for place in chosen
    ]
    return tuple(sorted(prompts, key=ease))


def how_many(
    kind: str,
    within: int,
    depth: str = CORE,
    avoid: Iterable[Prompt | str] = (),
    number: int | None = None,
) -> int:
    """Count the prompts a set can have at most besides those to avoid.

    Takes the arguments of make_prompts. Raises ValueError as it does.
    """
    known = check_arguments(kind, within, 1, 0, depth, number)
    pool = pool_of(kind, within, depth)
    avoided = {prompt if isinstance(prompt, str) else prompt.key for prompt in avoid}
    left = _allowed(pool, avoided, number)
    if not known.one_number:
        return len(left)
    numbers = [pool.asks[place].numbers[0] for place in left]
    return max(map(numbers.count, set(numbers)), default=0)


def _allowed(pool: Pool, avoided: set[str], number: int | None) -> list[int]:
    """List the places of the questions that are not avoided, about *number* if that is given."""
    return [
        place
        for place, (ask, key) in enumerate(zip(pool.asks, pool.keys, strict=True))
        if key not in avoided and (number is None or ask.numbers[0] == number)
    ]


def check_arguments(
    kind: str, within: int, count: int, seed: int, depth: str, number: int | None = None
) -> Kind:
    """Return the kind, or raise ValueError naming the wrong argument and what is allowed."""
    if not isinstance(kind, str) or kind not in EVERY_KIND:
        raise ValueError(f"kind must be one of {', '.join(EVERY_KIND)}, not {kind!r}")
    known = EVERY_KIND[kind]
    if type(within) is not int or within not in known.ranges:
        allowed = " or ".join(", ".join(map(str, known.ranges)).rsplit(", ", 1))
        raise ValueError(f"within must be {allowed} for {kind}, not {within!r}")
    if type(count) is not int or not 1 <= count <= MOST:
        raise ValueError(f"count must be a whole number from 1 to {MOST}, not {count!r}")
    if type(seed) is not int:
        raise ValueError(f"seed must be a whole number, not {seed!r}")
    if depth not in DEPTHS:
        raise ValueError(f"depth must be one of {', '.join(DEPTHS)}, not {depth!r}")
    if number is not None and not known.one_number:
        raise ValueError(f"number cannot be chosen for {kind}: its prompts are not about one")
    if number is not None and (type(number) is not int or not 1 <= number <= within):
        raise ValueError(f"number must be a whole number from 1 to {within}, not {number!r}")
    return known


def prompt_of(kind: Kind, ask: Ask, within: int, depth: str, variant: int = 0) -> Prompt:
    """Put a question into words and pictures; *variant* picks its outer variation."""
    things = kind.things(ask, variant)
    return Prompt(
        kind=kind.name,
        sentence=written(kind.name, ask.form, ask.numbers, things),
        spoken=said(kind.name, ask.form, ask.numbers, things),
        answer=ask.answer,
        numbers=ask.numbers,
        picture=kind.picture(ask, depth, variant),
        mistakes=dict(ask.mistakes),
        form=ask.form,
        answers=ask.answers,
        choices=ask.choices,
        fact=ask.fact,
        things=things,
        depth=depth,
        within=within,
    )


def _too_few(
    pool: Pool, within: int, depth: str, count: int, there: int, left: int, avoiding: bool
) -> str:
    """Say that a set cannot be filled, and how many prompts there are."""
    about = " about one number" if pool.kind.one_number else ""
    rest = f", {left} of them not to be avoided" if avoiding else ""
    return (
        f"count must be at most {left}: {pool.kind.name} within {within} ({depth}) has "
        f"{there} prompts{about}{rest}, not {count}"
    )


def _of_one_number(
    pool: Pool, allowed: list[int], count: int, chance: Chance, avoided: set[str]
) -> list[int]:
    """Keep the questions about one drawn number: one not met yet that has enough of them."""
    by_number: dict[int, list[int]] = {}
    for place in allowed:
        by_number.setdefault(pool.asks[place].numbers[0], []).append(place)
    met = {ask.numbers[0] for ask, key in zip(pool.asks, pool.keys, strict=True) if key in avoided}
    full = [number for number, places in by_number.items() if len(places) >= count]
    fresh = [number for number in full if number not in met]
    if not full:
        return max(by_number.values(), key=len, default=[])
    return by_number[chance.choice(fresh or full)]

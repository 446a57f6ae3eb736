"""Choosing one set out of a pool: new facts first, no fact twice, and then what tells most."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from tasks.numberwork.chance import Chance
from tasks.numberwork.choosing import best_mixes
from tasks.numberwork.pool import Pool


def choose_set(
    pool: Pool,
    allowed: Sequence[int],
    count: int,
    chance: Chance,
    seen: set[str],
    taken: Sequence[int] = (),
) -> list[int]:
    """Choose *count* of the *allowed* places in a pool, at least as many.

    Facts not *seen* come before any others; a fact comes twice only when there are too few.
    taken: places that are in the set already; what they tell apart counts.
    """
    if len(allowed) == len(pool.asks) and not seen and len(pool.by_fact) >= count:
        return _diagnostic(pool, pool.groups, count, chance, taken)
    by_fact: dict[str, list[int]] = {}
    for place in allowed:
        by_fact.setdefault(pool.facts[place], []).append(place)
    fresh = [fact for fact in by_fact if fact not in seen]
    if len(fresh) >= count:
        places = [place for fact in fresh for place in by_fact[fact]]
        return _diagnostic(pool, _grouped(pool, places), count, chance, taken)
    one_each = [chance.choice(by_fact[fact]) for fact in fresh]
    rest = sorted(set(allowed).difference(one_each))
    missing = count - len(one_each)
    return one_each + _diagnostic(pool, _grouped(pool, rest), missing, chance, [*taken, *one_each])


def _grouped(pool: Pool, places: Iterable[int]) -> Mapping[int, Sequence[int]]:
    """Put together the places which tell the same mistakes apart."""
    groups: dict[int, list[int]] = {}
    for place in places:
        groups.setdefault(pool.masks[place], []).append(place)
    return groups


def _diagnostic(
    pool: Pool,
    groups: Mapping[int, Sequence[int]],
    count: int,
    chance: Chance,
    taken: Sequence[int],
) -> list[int]:
    """Choose *count* places by the best mix of groups; the seed picks among equals."""
    masks = tuple(sorted(groups))
    room = tuple(min(count, len(groups[mask])) for mask in masks)
    already = tuple(sorted(pool.masks[place] for place in taken))
    mix = chance.choice(best_mixes(masks, room, already, count))
    asked = {pool.facts[place] for place in taken}
    chosen: list[int] = []
    # Small groups first: they have the fewest facts to choose from.
    for _, mask, number in sorted(zip(room, masks, mix, strict=True)):
        chosen += _draw(pool, groups[mask], number, chance, asked)
    if len(chosen) < count:
        chosen += _fill(pool, groups, count - len(chosen), chance, asked, chosen)
    return chosen


def _fill(
    pool: Pool,
    groups: Mapping[int, Sequence[int]],
    count: int,
    chance: Chance,
    asked: set[str],
    chosen: Sequence[int],
) -> list[int]:
    """Make up the number from any group: new facts first, then facts asked in another form."""
    left = sorted(place for places in groups.values() for place in places if place not in chosen)
    filled = _draw(pool, left, count, chance, asked)
    left = [place for place in left if place not in filled]
    while len(filled) < count:
        filled.append(left.pop(chance.below(len(left))))
    return filled


def _draw(
    pool: Pool, places: Sequence[int], number: int, chance: Chance, asked: set[str]
) -> list[int]:
    """Draw up to *number* of *places* about facts not yet *asked*, and note those facts."""
    members = list(places)
    drawn: list[int] = []
    while members and len(drawn) < number:
        place = members.pop(chance.below(len(members)))
        if pool.facts[place] not in asked:
            asked.add(pool.facts[place])
            drawn.append(place)
    return drawn

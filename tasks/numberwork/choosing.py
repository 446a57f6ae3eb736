"""Choosing the set of questions that best tells mistakes apart.

Questions which tell the same pairs of hypotheses apart are alike for this purpose, so the search
is over how many to take from each group of alike questions (a mix), not over sets of questions.

What is maximised, in this order:

1. the smallest number of questions on which two hypotheses differ, over all pairs that can be
   told apart at all, counted up to `enough`;
2. the evidence over all pairs: each further question on which a pair differs shrinks the chance
   of taking one for the other by about `SHRINK` (the Bhattacharyya bound for one slip in ten), so
   the sum of SHRINK^-d over pairs is made as small as possible.

Where there are at most `EXACT` mixes every one is tried. Elsewhere the mix is built greedily and
improved by swapping one question at a time until no swap helps, from several orders.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import TypeAlias

Mix: TypeAlias = tuple[int, ...]
Score: TypeAlias = tuple[int, int]

EXACT = 500
SHRINK = 5
STARTS = 3


def enough(count: int) -> int:
    """Return on how many of *count* questions two mistakes should differ; more adds little."""
    return min(12, max(4, (count + 1) // 2))


@lru_cache(maxsize=4096)
def best_mixes(masks: Mix, room: Mix, taken: tuple[int, ...], count: int) -> tuple[Mix, ...]:
    """Find the best ways of taking *count* questions from groups told by *masks*.

    room: how many there are in each group (together at least *count*). taken: the masks of
    questions that are in the set already. All results have the same score.
    """
    search = _Search(masks, room, taken, count)
    if _number_of_mixes(room, count, EXACT) <= EXACT:
        mixes = list(_all_mixes(room, count))
    else:
        mixes = [search.improved(search.greedy(start)) for start in range(STARTS)]
    scores = [search.score(search.differing(mix)) for mix in mixes]
    best = max(scores)
    return tuple(sorted({mix for mix, score in zip(mixes, scores, strict=True) if score == best}))


class _Search:
    """One search: the pairs that matter, and how good a mix is."""

    def __init__(self, masks: Mix, room: Mix, taken: tuple[int, ...], count: int) -> None:
        together = 0
        for mask in (*masks, *taken):
            together |= mask
        pairs = [bit for bit in range(together.bit_length()) if together >> bit & 1]
        self.room = room
        self.count = count
        self.tells = [[p for p, bit in enumerate(pairs) if mask >> bit & 1] for mask in masks]
        self.start = [sum(mask >> bit & 1 for mask in taken) for bit in pairs]
        cap = enough(count + len(taken))
        most = count + len(taken) + 1
        self.cap = cap
        self.doubt = [SHRINK ** (cap - min(met, cap)) for met in range(most + 1)]

    def differing(self, mix: Mix) -> list[int]:
        """Count, for each pair, the questions of a mix on which the two differ."""
        differ = list(self.start)
        for group, number in enumerate(mix):
            for pair in self.tells[group] if number else ():
                differ[pair] += number
        return differ

    def score(self, differ: list[int]) -> Score:
        """Rate the pair counts: smallest first, then the doubt left over all pairs."""
        least = min(min(differ, default=0), self.cap)
        return least, -sum(map(self.doubt.__getitem__, differ))

    def greedy(self, start: int) -> Mix:
        """Take, one at a time, the question that removes most doubt; *start* orders equals."""
        groups = len(self.room)
        order = [(group + start * groups // STARTS) % groups for group in range(groups)]
        mix, differ = [0] * groups, list(self.start)
        for _ in range(self.count):
            best = max(
                (group for group in order if mix[group] < self.room[group]),
                key=lambda group: self._gain(differ, group),
            )
            mix[best] += 1
            for pair in self.tells[best]:
                differ[pair] += 1
        return tuple(mix)

    def _gain(self, differ: list[int], group: int) -> int:
        """Return the doubt that one more question of *group* removes."""
        doubt = self.doubt
        return sum(doubt[differ[pair]] - doubt[differ[pair] + 1] for pair in self.tells[group])

    def improved(self, mix: Mix) -> Mix:
        """Swap single questions for better ones until no swap helps."""
        differ = self.differing(mix)
        best = self.score(differ)
        swapping = True
        while swapping:
            swapping = False
            for out, into in self._swaps(mix):
                changed = list(mix)
                changed[out] -= 1
                changed[into] += 1
                score = self.score(self.differing(tuple(changed)))
                if score > best:
                    mix, best, swapping = tuple(changed), score, True
                    break
        return mix

    def _swaps(self, mix: Mix) -> Iterator[tuple[int, int]]:
        """List every single swap a mix allows."""
        used = [group for group, number in enumerate(mix) if number]
        free = [group for group, number in enumerate(mix) if number < self.room[group]]
        return ((out, into) for out in used for into in free if out != into)


def _number_of_mixes(room: Mix, count: int, stop: int) -> int:
    """Count the ways to take *count* questions, giving up beyond *stop*."""
    ways = [1] + [0] * count
    for size in room:
        ways = [sum(ways[max(0, n - size) : n + 1]) for n in range(count + 1)]
        if max(ways) > stop * 50:
            return stop + 1
    return ways[count]


def _all_mixes(room: Mix, count: int) -> Iterator[Mix]:
    """List every way to take *count* questions."""
    if len(room) == 1:
        if count <= room[0]:
            yield (count,)
        return
    for number in range(min(room[0], count) + 1):
        for rest in _all_mixes(room[1:], count - number):
            yield (number, *rest)

"""How common each thing behind a child's answers is: as assumed, and as a school's answers tell.

The shares assumed: common practice, no source. No count of how often each mistake of this age is
made, kind by kind, is known to be published.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

from tasks.numberwork.kinds import kind_kept
from tasks.numberwork.mistakes.model import (
    EITHER_WAY,
    GUESSING,
    MORE,
    NEAR_BY,
    UNCLEAR,
    Key,
)
from tasks.numberwork.pool import NONE, STEPS

ASSUMED: Mapping[Key | str, float] = {
    NONE: 0.5,
    NEAR_BY: 0.12,
    EITHER_WAY: 0.05,
    GUESSING: 0.06,
    UNCLEAR: 0.06,
    MORE: 0.05,
}
MISTAKES = 1 - sum(ASSUMED.values())  # all of a kind's mistakes together, equally common
STRENGTH = 40  # answered sets for which what is assumed counts
ROUNDS, SETTLED = 200, 1e-5
NINE_IN_TEN = 1.645  # standard deviations to either side that hold nine in ten


@dataclass(frozen=True, slots=True)
class Weighed:
    """One answered set: the chance of its answers under each hypothesis it can tell.

    same: what each mistake of the kind is taken for in this set (see `model.alike`).
    """

    chances: Mapping[Key | str, float]
    same: Mapping[Key, Key]

    def taken_for(self, name: Key | str) -> Key | str | None:
        """Return as what something shows in this set; None where these answers rule it out.

        What these prompts cannot show looks like no mistake.
        """
        target = self.same.get(name, NONE) if isinstance(name, tuple) else name
        if target in self.chances:
            return target
        return None if target == MORE else NONE


@dataclass(frozen=True, slots=True)
class Share:
    """How common something is in one kind of work: assumed, found, and between what, of 1.

    Nine times in ten the true share lies between *low* and *high*.
    """

    assumed: float
    found: float
    low: float
    high: float


def assumed(kinds: Iterable[str]) -> dict[Key | str, float]:
    """Return what is assumed of work of these kinds; each kind's mistakes are equally common."""
    shares = dict(ASSUMED)
    listed = list(dict.fromkeys(kinds))
    for kind in listed:
        names = dict.fromkeys([*kind_kept(kind).mistakes, *STEPS])
        each = MISTAKES / len(names) / len(listed)
        shares.update({(kind, name): each for name in names})
    return shares


def for_set(shares: Mapping[Key | str, float], work: Weighed) -> dict[Key | str, float]:
    """Return how common each hypothesis of one set is.

    A mistake that its kind does not list (a kept prompt may speak of one) is as common as the
    rarest.
    """
    least = min(shares.values())
    found: dict[Key | str, float] = dict.fromkeys(work.chances, 0.0)
    for name, share in shares.items():
        if (target := work.taken_for(name)) is not None:
            found[target] += share
    return {name: share or least for name, share in found.items()}


def learn(kind: str, works: Sequence[Weighed]) -> dict[Key | str, Share]:
    """Find how common each thing is from sets of one kind, by expectation–maximisation.

    Source: Dempster, Laird and Rubin 1977, the estimation of mixing proportions; with what is
    assumed as a Dirichlet prior that counts for `STRENGTH` sets, so that few sets change little.
    How sure: the observed information of each share, the others in proportion.
    """
    before = assumed([kind])
    shares = dict(before)
    columns = [_column(work, before) for work in works]
    for _ in range(ROUNDS):
        counts = {name: STRENGTH * share for name, share in before.items()}
        for column in columns:
            whole = sum(shares[name] * chance for name, chance in column.items())
            for name, chance in column.items():
                counts[name] += shares[name] * chance / whole
        total = STRENGTH + len(columns)
        moved = max(abs(counts[name] / total - share) for name, share in shares.items())
        shares = {name: count / total for name, count in counts.items()}
        if moved < SETTLED:
            break
    return {name: _share(name, before[name], shares, columns) for name in before}


def _column(work: Weighed, shares: Mapping[Key | str, float]) -> dict[Key | str, float]:
    """Return the chance of a set's answers under everything that has a share."""
    targets = {name: work.taken_for(name) for name in shares}
    return {
        name: 0.0 if target is None else work.chances[target] for name, target in targets.items()
    }


def _share(
    name: Key | str,
    before: float,
    shares: Mapping[Key | str, float],
    columns: Sequence[Mapping[Key | str, float]],
) -> Share:
    """Say how common something is and how sure that is."""
    share = shares[name]
    information = STRENGTH / (share * (1 - share))
    for column in columns:
        whole = sum(shares[other] * chance for other, chance in column.items())
        rest = (whole - share * column[name]) / (1 - share)
        information += ((column[name] - rest) / whole) ** 2
    away = NINE_IN_TEN / sqrt(information)
    return Share(before, share, max(0.0, share - away), min(1.0, share + away))

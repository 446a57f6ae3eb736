"""How soon the words for evidence, and the groups made from it, match an invented class."""

import statistics
from collections.abc import Iterator, Sequence

from assessment.insight.simulate import simulate
from tests.benchmarks import Figure

SEEDS, WEEKS, CHILDREN = range(6), 36, 30


def measure() -> Iterator[Figure]:
    """Return weeks until nine in ten words match, and how right the groups are by then."""
    found = [simulate(seed, CHILDREN, WEEKS) for seed in SEEDS]
    matched = [one.weeks_to_match for one in found if one.weeks_to_match is not None]
    yield Figure("simulated classes whose words come to match", len(matched), f"of {len(SEEDS)}")
    if matched:
        yield Figure("weeks until words match the truth", statistics.median(matched), "weeks")
    delays = [one.delay for one in found if one.delay is not None]
    yield Figure("from able to nothing missing", statistics.median(delays), "weeks")
    overstated = statistics.mean(one.overstated for one in found)
    yield Figure("nothing missing, yet not able", overstated, "of all", most=0.1)
    right = [early(one.grouped_right) for one in found]
    yield Figure("grouped for what they do find hard", statistics.mean(right), "of children")
    reached = [early(one.reached) for one in found]
    yield Figure("who find something hard, grouped for it", statistics.mean(reached), "of children")


def early(shares: Sequence[float | None]) -> float:
    """Return the mean of *shares* over the first half-year: by then few find anything hard."""
    return statistics.mean(share for share in shares[: WEEKS // 2] if share is not None)

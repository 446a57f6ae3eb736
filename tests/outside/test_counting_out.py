"""Up to which number children count out, against a general-purpose sampler on published trials.

Source: the give-a-number trials of 20 children from data of B. W. Sarnecka and M. D. Lee, as
analysed in Lee and Wagenmakers 2013, Bayesian Cognitive Modeling, "Number concept development",
and distributed with the Stan project's example models (new BSD licence); they stand in
give_n_children.csv beside this file: child, task, asked, answered.
The reference: the model of Lee and Sarnecka 2010 written anew with arrays, all of its parameters
sampled together by emcee (Foreman-Mackey et al. 2013, emcee: The MCMC Hammer).
"""

import csv
from collections import defaultdict
from pathlib import Path

import emcee
import numpy as np
import pytest

from assessment.insight.counting_out import (
    BASE,
    COUNTS,
    FAVOUR,
    LEVELS,
    MOST,
    HowSure,
    Trial,
    counts_out,
    levels,
)

WALKERS, STEPS, FREE = 64, 3000, MOST - 1


def published() -> dict[int, list[Trial]]:
    """Return the trials of each child."""
    found: dict[int, list[Trial]] = defaultdict(list)
    with (Path(__file__).parent / "give_n_children.csv").open() as file:
        for row in csv.DictReader(file):
            if row["task"] == "give":
                found[int(row["child"])].append(Trial(int(row["asked"]), int(row["answered"])))
    return found


class Reference:
    """The model with free base rates (a flat Dirichlet) and a favour even between 1 and 1000."""

    def __init__(self, children: dict[int, list[Trial]]) -> None:
        self.counts = np.zeros((len(children), MOST, MOST))
        for place, trials in enumerate(children.values()):
            for trial in trials:
                self.counts[place, trial.asked - 1, trial.answered - 1] += 1
        level, asked, given = np.meshgrid(
            LEVELS, np.arange(1, MOST + 1), np.arange(1, MOST + 1), indexing="ij"
        )
        known = given <= level
        self.power = np.where(known & (given == asked), 1, np.where(known, -1, 0))

    def of_levels(self, point: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Return the log chance of each child's trials at each level, and the log base rates."""
        free = np.append(point[:FREE], 0)
        base = free - np.logaddexp.reduce(free)
        weights = base + self.power * point[FREE]
        weights = weights - np.logaddexp.reduce(weights, axis=2, keepdims=True)
        return np.einsum("can,lan->cl", self.counts, weights), base

    def __call__(self, point: np.ndarray) -> float:
        """Return the log posterior, levels added up, with the Jacobians of the coordinates."""
        if not 0 <= point[FREE] <= np.log(1000) or np.abs(point[:FREE]).max() > 15:
            return -np.inf
        by_level, base = self.of_levels(point)
        return float(np.logaddexp.reduce(by_level, axis=1).sum() + base.sum() + point[FREE])


@pytest.fixture(scope="module")
def sampled() -> tuple[np.ndarray, np.ndarray, float]:
    """Return the levels of each child, the base rates and the favour, as the sampler finds them."""
    model = Reference(published())
    chance = np.random.default_rng(1)
    start = np.hstack(
        [chance.normal(0, 0.3, (WALKERS, FREE)), chance.normal(3.3, 0.2, (WALKERS, 1))]
    )
    np.random.seed(1)
    moves = [(emcee.moves.DEMove(), 0.8), (emcee.moves.DESnookerMove(), 0.2)]
    sampler = emcee.EnsembleSampler(WALKERS, MOST, model, moves=moves)
    sampler.run_mcmc(start, STEPS)
    points = sampler.get_chain(discard=STEPS // 3, thin=50, flat=True)
    by_level, bases = zip(*map(model.of_levels, points), strict=True)
    shares = [np.exp(one - np.logaddexp.reduce(one, axis=1, keepdims=True)) for one in by_level]
    favour = float(np.exp(points[:, FREE]).mean())
    return np.mean(shares, axis=0), np.exp(bases).mean(axis=0), favour


def test_levels_are_those_of_the_sampler(sampled):
    reference, _base, _favour = sampled
    for trials, expected in zip(published().values(), reference, strict=True):
        found = levels(trials)
        assert [found[level] for level in LEVELS] == pytest.approx(list(expected), abs=0.12)
        assert max(LEVELS, key=found.__getitem__) == LEVELS[expected.argmax()]


def test_base_rates_and_favour_are_those_of_the_sampler(sampled):
    _levels, base, favour = sampled
    assert sum(BASE) == pytest.approx(1, abs=0.002)
    assert list(BASE) == pytest.approx(list(base), abs=0.02)
    assert pytest.approx(favour, rel=0.25) == FAVOUR


def test_what_is_said_of_each_child_is_what_the_sampler_is_sure_of(sampled):
    reference, _base, _favour = sampled
    for trials, expected in zip(published().values(), reference, strict=True):
        said = counts_out(trials)
        level = LEVELS[expected.argmax()]
        assert said.up_to == (10 if level == COUNTS else level)
        if expected.max() > 0.97:
            assert said.how_sure == HowSure.SURE


def test_a_child_who_always_gives_one_is_not_said_to_count_out_any_number():
    assert counts_out([Trial(asked, 1) for asked in (1, 2, 3, 4, 5, 8, 10) * 3]).up_to == 0


@pytest.mark.parametrize(
    "trials",
    [
        [],
        [Trial(3, 3)] * 2,
        [Trial(2, 2), Trial(3, 3), Trial(5, 5)],
        [Trial(4, 4)] * 9,
        [Trial(18, 18)] * 9,
    ],
)
def test_too_few_trials_or_numbers_are_not_yet_known(trials):
    said = counts_out(trials)
    assert (said.up_to, said.how_sure) == (None, HowSure.NOT_KNOWN)


def test_nothing_is_said_beyond_what_was_asked_for():
    said = counts_out([Trial(asked, asked) for asked in (2, 3, 4, 6) * 3])
    assert (said.up_to, said.how_sure, said.right, said.trials) == (6, HowSure.SURE, 12, 12)

"""Up to which number a child counts things out reliably: the knower-level model.

Source: Lee and Sarnecka 2010, A model of knower-level behavior in number-concept development,
Cognitive Science 34. A child who is asked for some of a heap of things either knows the first few
numbers alone (level 0, 1, 2, 3 or 4) or counts. Before anything is asked all levels are equally
likely.

- Each answer has a base rate, what children give whatever they are asked for.
- A child who knows the number asked for gives it `FAVOUR` times as often as its base rate, and
  each other number it knows 1 / `FAVOUR` times.
- Asked for a number that it does not know, a child gives each number it knows 1 / `FAVOUR` times
  as often, and the rest at their base rates.

`BASE` and `FAVOUR` are the means found from the trials of 20 children that Lee and Wagenmakers
2013 (Bayesian Cognitive Modeling, "Number concept development") publish. Follow-up questions and
the highest number asked for change what is found (Wege et al., Thirty years of the Give-N task,
Journal of Numerical Cognition, doi 10.5964/jnc.10577): ask up to at least 6, each number three
times, and have the child count and check.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

MOST = 15  # things in the published heap: numbers beyond it tell nothing here
COUNTS = MOST  # the level of a child who counts
LEVELS = (0, 1, 2, 3, 4, COUNTS)
BASE: tuple[float, ...] = (
    *(0.504, 0.090, 0.068, 0.068, 0.064, 0.036, 0.024, 0.013, 0.020, 0.007),
    *(0.003, 0.003, 0.007, 0.003, 0.090),
)
FAVOUR = 90.0
FEWEST, NUMBERS = 6, 3  # trials, and different numbers asked for, before anything is said
SURE, FAIRLY_SURE = 0.95, 0.8


class HowSure(StrEnum):
    """How sure it is up to which number a child counts out."""

    NOT_KNOWN = "not yet known"
    FAIRLY = "fairly sure"
    SURE = "sure"


@dataclass(frozen=True, slots=True)
class Trial:
    """One time a child was asked for a number of things, and how many it put out.

    things: how many there were to take from; answers beyond are taken for all of them.
    """

    asked: int
    answered: int
    things: int = MOST


@dataclass(frozen=True, slots=True)
class CountsOut:
    """Up to which number a child counts out reliably, and how sure that is.

    up_to: 0 for none; None where it is not known. right: trials with the number asked for.
    """

    up_to: int | None
    how_sure: HowSure
    right: int
    trials: int


def counts_out(trials: Sequence[Trial]) -> CountsOut:
    """Say up to which number a child counts things out reliably.

    The largest number that it can be said of with `FAIRLY_SURE`; a child who counts is said to do
    so up to the largest number it was asked for and gave. Trials beyond `MOST` are left out.
    """
    usable = [trial for trial in trials if 1 <= trial.asked <= MOST and trial.answered >= 1]
    right = sum(trial.asked == trial.answered for trial in usable)
    asked = {trial.asked for trial in usable}
    unknown = CountsOut(None, HowSure.NOT_KNOWN, right, len(usable))
    if len(usable) < FEWEST or len(asked) < NUMBERS:
        return unknown
    chances = levels(usable)
    reached = 0.0
    for level in reversed(LEVELS):
        reached += chances[level]
        if reached >= FAIRLY_SURE:
            shown = [one.asked for one in usable if one.asked == one.answered]
            up_to = min(level, max(shown, default=0))
            if level and not up_to:
                return unknown
            sure = reached >= SURE and (level == COUNTS or chances[level] >= SURE)
            return CountsOut(up_to, HowSure.SURE if sure else HowSure.FAIRLY, right, len(usable))
    return unknown


def levels(
    trials: Sequence[Trial], base: Sequence[float] = BASE, favour: float = FAVOUR
) -> dict[int, float]:
    """Return how probable each of LEVELS is, from a child's trials.

    base: what is given whatever is asked for, 1 to `MOST`, adding up to 1.
    """
    chances = dict.fromkeys(LEVELS, 1.0)
    for trial in trials:
        for level in LEVELS:
            chances[level] *= chance(level, trial, base, favour)
        whole = sum(chances.values())
        chances = {level: one / whole for level, one in chances.items()}
    return chances


def chance(level: int, trial: Trial, base: Sequence[float] = BASE, favour: float = FAVOUR) -> float:
    """Return how probable a trial's answer is for a child of a level."""
    there = min(max(trial.things, trial.asked), MOST)
    weights = [
        rate * _times(level, trial.asked, number, favour)
        for number, rate in enumerate(base[:there], start=1)
    ]
    return weights[min(trial.answered, there) - 1] / sum(weights)


def _times(level: int, asked: int, number: int, favour: float) -> float:
    """Return how many times its base rate a number is given."""
    if number == asked <= level:
        return favour
    return 1 / favour if number <= level else 1.0

"""What is said of a made-up class is as often true as is meant, and seldom said falsely."""

from collections.abc import Callable, Iterable

import pytest
from sklearn.calibration import calibration_curve

from tasks.numberwork import KINDS, Finding, how_many, make_prompts, spot_mistakes
from tasks.numberwork.kinds.mistakes import FEW, MANY
from tasks.numberwork.mistakes.model import MORE, alike
from tests.benchmarks.prompts import reasonable_range
from tests.tasks.numberwork import honest_class
from tests.tasks.numberwork.honest_class import EVEN, MIXTURE, MadeUpChild, children
from tests.tasks.numberwork.independent_class import RIGHT, workers

TWO_CHOICES = ("odd-or-even", "can-it-be-halved", "halves-of-shapes")
CHOICES = (*TWO_CHOICES, "comparing", "comparing-signs", "repeating-patterns")
NUMBERS = tuple(kind for kind in KINDS if kind not in CHOICES)
Read = tuple[MadeUpChild, Finding]


def a_class(
    kinds: Iterable[str], count: int, number: int, seed: int, mixture: dict[str, float]
) -> list[Read]:
    """Give each made-up child of every kind with the first finding about its answers."""
    return [
        (child, spot_mistakes(child.prompts, child.answers)[0])
        for kind in kinds
        for within in [reasonable_range(kind)]
        for child in children(
            kind, within, min(count, how_many(kind, within)), number, seed, mixture
        )
    ]


def is_true(names: Iterable[str], prompts, finding: Finding) -> bool:
    """Tell whether a finding is what lies behind; a miscount is, where it gives the same."""
    same = alike(prompts)
    meant = {same.get((prompts[0].kind, name), ("", name))[1] for name in names}
    return len(meant) > 1 if finding.mistake == MORE else finding.mistake in meant


def claims(found: Iterable[Read]) -> list[Read]:
    """Keep what says that a mistake, or more than one, is behind the answers."""
    return [(child, one) for child, one in found if one.is_mistake or one.mistake == MORE]


def share(found: list[Read], truth: str, so: Callable[[Read], bool]) -> float:
    """Return for which share of the children of one sort *so* holds."""
    those = [one for one in found if one[0].truth == truth]
    assert len(those) >= 100, truth
    return sum(map(so, those)) / len(those)


def named(found: Read) -> bool:
    return found[1].is_mistake or found[1].mistake == MORE


def told(found: Read) -> bool:
    """Tell whether one of a child's mistakes is named, or several are said to be there."""
    child, finding = found
    return finding.mistake == MORE or is_true(child.names, child.prompts, finding)


@pytest.mark.parametrize("mixture", [MIXTURE, EVEN], ids=["mixture", "all alike"])
def test_nine_in_ten_means_nine_in_ten(mixture):
    said = claims([one for count in (5, 8) for one in a_class(KINDS, count, 150, 21, mixture)])
    near = [pair for pair in said if 0.85 <= pair[1].probability < 0.95]
    true = sum(is_true(c.names, c.prompts, one) for c, one in near)
    assert len(near) >= 40
    assert 0.85 <= true / len(near) <= 0.95
    shares, meant = calibration_curve(
        [is_true(c.names, c.prompts, one) for c, one in said],
        [one.probability for _, one in said],
        n_bins=2,
        strategy="quantile",
    )
    assert abs(shares - meant).max() <= 0.07


def test_nine_in_ten_means_nine_in_ten_of_children_made_up_without_the_table():
    found = [
        (worker, spot_mistakes(worker.prompts, worker.answers)[0])
        for kind in RIGHT
        for count in (5, 8)
        for worker in workers(kind, count, 1200, 3)
    ]
    said = [(one, f) for one, f in found if f.is_mistake or f.mistake == MORE]
    near = [(one, f) for one, f in said if 0.85 <= f.probability < 0.95]
    true = sum(is_true(one.names, one.prompts, f) for one, f in near) / len(near)
    by_chance = 2 * (0.9 * 0.1 / len(near)) ** 0.5
    assert len(near) >= 100
    assert 0.85 - by_chance <= true <= 0.95 + by_chance
    told_of = [f for one, f in found if one.names]
    assert sum(f.is_mistake or f.mistake == MORE for f in told_of) >= 0.75 * len(told_of)


@pytest.mark.parametrize("count", [4, 5, 6, 7, 8])
def test_answers_off_by_one_at_random_are_seldom_blamed_on_one_side(count):
    off = {honest_class.OFF_BY_ONE: 1.0}
    found = a_class(("adding", "halving", "one-more", "missing-number"), count, 150, 5, off)
    assert share(found, honest_class.OFF_BY_ONE, named) <= 0.05


def test_mistakes_that_show_sometimes_and_two_at_once_are_told_of():
    found = a_class(NUMBERS, 8, 60, 7, {honest_class.UNSTEADY: 0.5, honest_class.TWO: 0.5})
    assert share(found, honest_class.UNSTEADY, told) >= 0.75
    assert share(found, honest_class.TWO, told) >= 0.75


def test_a_careful_child_is_hardly_ever_said_to_make_a_mistake():
    found = a_class(KINDS, 8, 60, 8, {honest_class.CAREFUL: 1.0})
    assert share(found, honest_class.CAREFUL, named) <= 0.01


@pytest.mark.parametrize("count", [5, 8])
def test_a_child_who_guesses_between_two_is_seldom_said_to_make_a_mistake(count):
    found = a_class(TWO_CHOICES, count, 250, 9, {honest_class.GUESSES: 1.0})
    assert share(found, honest_class.GUESSES, named) <= 0.05


@pytest.mark.parametrize("kind", NUMBERS)
def test_no_strategy_is_named_where_a_plain_miscount_gives_the_same_answers(kind):
    within = reasonable_range(kind)
    for count in (4, 8):
        prompts = make_prompts(kind, within, min(count, how_many(kind, within)), 3)
        if not all(map(honest_class.is_number, prompts)):
            continue
        for step, name in ((-1, FEW), (1, MANY)):
            answers = [max(0, prompt.answer + step) for prompt in prompts]
            first = spot_mistakes(prompts, answers)[0]
            assert first.mistake == name or not first.is_mistake

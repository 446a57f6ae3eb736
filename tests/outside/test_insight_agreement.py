"""Agreement against published tables and another library."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sklearn.metrics import cohen_kappa_score

from assessment.insight.agreement import agreement, agreement_of_table, band

COHEN = [[88, 14, 18], [10, 40, 10], [2, 6, 12]]
FLEISS = [[106, 10, 4], [22, 28, 10], [2, 12, 6]]


@pytest.mark.parametrize(
    ("weights", "published"),
    [
        ("plain", 0.492),
        ([[0, 1, 3], [1, 0, 6], [3, 6, 0]], 0.348),
        ([[0, 1, 4], [1, 0, 6], [2, 2, 0]], 0.353),
    ],
)
def test_cohens_own_table_gives_cohens_own_figures(weights, published):
    """Source: Cohen 1968, Psychological Bulletin 70, 213-220 (n = 200)."""
    assert round(agreement_of_table(COHEN, weights).kappa, 3) == published


@pytest.mark.parametrize(
    ("weights", "computed"),
    [
        ("plain", 0.4286),
        ("linear", 0.4923),
        ("quadratic", 0.5667),
        ([[0, 1, 5 / 9], [1, 0, 3 / 9], [5 / 9, 3 / 9, 0]], 0.5071),
    ],
)
def test_the_table_of_fleiss_cohen_and_everitt_gives_its_figures(weights, computed):
    """Source: Fleiss, Cohen & Everitt 1969, the table as given in R's psych package; their
    similarity weights (1 0 .4444 / 0 1 .6667 / .4444 .6667 1) taken from 1.
    """
    assert agreement_of_table(FLEISS, weights).kappa == pytest.approx(computed, abs=5e-5)


def test_the_two_by_two_example_gives_forty_hundredths():
    """Source: the textbook example of 50 applications, from memory; po .70, pe .50."""
    found = agreement_of_table([[20, 5], [10, 15]])
    assert (found.count, found.observed, found.kappa) == (50, 0.7, 0.4)


def test_kappa_is_undefined_where_chance_agreement_is_complete():
    """Source: Cohen 1960: kappa = (po - pe) / (1 - pe), which pe = 1 leaves undefined."""
    assert agreement_of_table([[12, 0], [0, 0]]).kappa is None


@pytest.mark.parametrize(
    ("kappa", "word"),
    [
        (-1, "poor"),
        (-0.01, "poor"),
        (-0.004, "slight"),
        (0, "slight"),
        (0.20, "slight"),
        (0.204, "slight"),
        (0.206, "fair"),
        (0.21, "fair"),
        (0.40, "fair"),
        (0.41, "moderate"),
        (0.60, "moderate"),
        (0.61, "substantial"),
        (0.80, "substantial"),
        (0.81, "almost perfect"),
        (1, "almost perfect"),
    ],
)
def test_the_bands_change_between_two_and_one_hundredths(kappa, word):
    """Source: Landis & Koch 1977, Biometrics 33, 159-174."""
    assert band(kappa) == word


WORDS = ("a", "b", "c", "d")
PAIRS = st.lists(st.tuples(st.sampled_from(WORDS), st.sampled_from(WORDS)), min_size=1, max_size=60)


@settings(max_examples=60, deadline=None)
@given(PAIRS, st.sampled_from(["plain", "linear", "quadratic"]))
def test_another_library_agrees_on_any_table(pairs, weights):
    """Source: scikit-learn, sklearn.metrics.cohen_kappa_score."""
    first, second = zip(*pairs, strict=True)
    ours = agreement(pairs, WORDS, weights).kappa
    if ours is None:
        assert set(first) == set(second) and len(set(first)) == 1
        return
    theirs = cohen_kappa_score(
        first, second, labels=WORDS, weights=None if weights == "plain" else weights
    )
    assert math.isclose(ours, theirs, abs_tol=1e-9)

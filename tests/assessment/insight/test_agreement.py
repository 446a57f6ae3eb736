"""How far two people who looked agree."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.insight.agreement import agreement, agreement_of_table
from assessment.insight.rows import How

WORDS = tuple(How)
PAIRS = st.lists(st.tuples(st.sampled_from(WORDS), st.sampled_from(WORDS)), max_size=40)


def test_two_who_always_agree_have_complete_agreement():
    found = agreement([("a", "a"), ("b", "b")], ["a", "b"])
    assert (found.kappa, found.observed, found.count) == (1.0, 1.0, 2)
    assert found.table == ((1, 0), (0, 1))


def test_without_work_both_looked_at_no_figure_is_given():
    found = agreement([], WORDS)
    assert (found.kappa, found.observed, found.count) == (None, None, 0)
    assert "no work" in found.reason


@pytest.mark.parametrize("weights", ["plain", "linear", "quadratic"])
def test_where_both_used_one_word_only_no_figure_is_given_but_the_agreement_is(weights):
    found = agreement([("a", "a")] * 5, ["a", "b"], weights)
    assert (found.kappa, found.band, found.observed) == (None, None, 1.0)
    assert "one word only" in found.reason


def test_one_who_always_says_the_same_gives_a_kappa_of_nought():
    assert agreement([("a", "a"), ("b", "a")], ["a", "b"]).kappa == 0.0


def test_a_weighted_figure_gets_no_word():
    pairs = [("a", "a"), ("b", "b"), ("b", "a")]
    assert agreement(pairs, ["a", "b"]).band is not None
    assert agreement(pairs, ["a", "b"], "linear").band is None


def test_a_near_miss_weighs_less_than_a_far_one():
    near = agreement([*zip(WORDS, WORDS, strict=True), (WORDS[0], WORDS[1])], WORDS, "quadratic")
    far = agreement([*zip(WORDS, WORDS, strict=True), (WORDS[0], WORDS[3])], WORDS, "quadratic")
    assert near.kappa > far.kappa


def test_a_word_outside_the_list_is_refused():
    with pytest.raises(ValueError, match="not among the words"):
        agreement([("a", "z")], ["a", "b"])


@pytest.mark.parametrize(
    ("counts", "weights"),
    [
        ([[1, 2]], "plain"),
        ([[1, -1], [0, 1]], "plain"),
        ([[1, 0], [0, 1]], [[0, 1]]),
        ([[1, 0], [0, 1]], [[0, -1], [1, 0]]),
        ([[1, 0], [0, 1]], [[1, 1], [1, 0]]),
        ([[1, 0], [0, 1]], "cubic"),
    ],
)
def test_a_table_or_weights_that_make_no_sense_are_refused(counts, weights):
    with pytest.raises(ValueError, match="must be"):
        agreement_of_table(counts, weights)


@settings(deadline=None)
@given(PAIRS, st.sampled_from(["plain", "linear", "quadratic"]))
def test_it_does_not_matter_who_looked_first(pairs, weights):
    swapped = [(second, first) for first, second in pairs]
    assert agreement(pairs, WORDS, weights).kappa == agreement(swapped, WORDS, weights).kappa


@settings(deadline=None)
@given(PAIRS)
def test_kappa_is_never_above_one_and_never_above_nought_without_agreement(pairs):
    found = agreement(pairs, WORDS)
    if found.kappa is not None:
        assert found.kappa <= 1
        assert found.observed > 0 or found.kappa <= 0

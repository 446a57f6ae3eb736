"""A year with an invented class whose abilities are known."""

from statistics import mean

import pytest

from assessment.insight.simulate import simulate

SEEDS = range(5)


@pytest.fixture(scope="module")
def years():
    return [simulate(seed) for seed in SEEDS]


def test_well_shown_is_hardly_ever_said_of_what_a_child_cannot_do(years):
    assert max(year.overstated for year in years) <= 0.02


def test_what_a_child_can_do_is_well_shown_within_about_a_month(years):
    assert mean(year.delay for year in years) <= 4


def test_in_the_first_term_groups_are_mostly_for_something_those_children_find_hard(years):
    for year in years:
        first_term = [share for share in year.grouped_right[:12] if share is not None]
        assert mean(first_term) >= 0.75


def test_in_the_first_term_most_children_who_find_something_hard_are_in_such_a_group(years):
    for year in years:
        assert mean(share for share in year.reached[:12] if share is not None) >= 0.75


def test_equal_seeds_live_through_equal_years(years):
    assert simulate(0) == years[0] != years[1]

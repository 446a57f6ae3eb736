"""Chosen sets name made-up children's mistakes more often than sets drawn blindly."""

import pytest

from tasks.numberwork.mistakes.simulation import simulate


@pytest.mark.parametrize(
    ("kind", "within"), [("counting-on-in-ones", 50), ("comparing", 20), ("hundred-square", 20)]
)
def test_a_chosen_set_names_the_mistake_more_often_than_a_blind_one(kind, within):
    outcome = simulate(kind, within, count=8, children=150, seed=1)
    assert outcome.children == 150
    assert outcome.chosen > outcome.at_random


@pytest.mark.parametrize("kind", ["halving", "doubling", "adding", "taking-away", "missing-part"])
def test_eight_prompts_with_one_slip_in_ten_name_the_mistake_of_nine_in_ten_children(kind):
    assert simulate(kind, 20, count=8, children=150, seed=2).chosen >= 135


def test_a_simulation_can_be_done_again():
    assert simulate("halving", 20, children=30) == simulate("halving", 20, children=30)

"""The cautions of task cards against public safety advice for children under five."""

import pytest

from tasks.numberwork.cautions import cautions_for


def said(things: str) -> str:
    """Return all that a card says to take care of when it names *things*."""
    return " ".join(caution.order for caution in cautions_for(things))


@pytest.mark.parametrize("food", ["grapes", "strawberries", "cherry tomatoes"])
def test_small_round_food_is_cut_lengthways_and_into_quarters(food: str):
    """Source: Department for Education, help for early years providers, food safety."""
    assert "lengthways and into quarters" in said(food)


def test_a_child_who_eats_is_not_left_alone_and_allergies_are_checked_first():
    """Source: Department for Education, early years foundation stage framework, section 3,
    safer eating: within sight and hearing while eating; allergies known beforehand."""
    assert "Sit with your child while they eat" in said("slices of apple")
    assert "Check for food allergies first" in said("slices of apple")


def test_no_whole_nuts():
    """Source: Department for Education, help for early years providers, food safety."""
    assert "no whole nuts or seeds" in said("nuts")


@pytest.mark.parametrize("things", ["marbles", "coins", "beads", "buttons", "dried beans", "pasta"])
def test_small_things_are_named_as_a_choking_risk(things: str):
    """Source: common practice, no source (marbles and coins: Office for Product Safety and
    Standards, from memory)."""
    assert "can choke on them" in said(things)


@pytest.mark.parametrize("things", ["a remote control", "kitchen scales", "a torch"])
def test_things_with_batteries_warn_of_button_batteries(things: str):
    """Source: Office for Product Safety and Standards, button battery safety."""
    assert "Never count with button batteries" in said(things)
    assert "If a child swallows one, call 999 at once" in said(things)

"""Cautions: said where they are due, and once."""

import pytest

from tasks.cards.safety import cautions
from tasks.numberwork import KINDS


def icons(things: str, caution: str = "") -> list[str]:
    return [icon for icon, _sentence in cautions(things, caution)]


@pytest.mark.parametrize(
    ("things", "icon"),
    [
        ("Cut the apple in two.", "cut"),
        ("scissors and paper", "cut"),
        ("Share ten grapes.", "small-parts"),
        ("a slice of toast", "food"),
        ("BUTTONS or beads", "small-parts"),
        ("two pebbles", "small-parts"),
        ("a torch", "battery"),
        ("cups in the bath", "water"),
        ("Bake twelve biscuits.", "heat"),
    ],
)
def test_a_thing_that_needs_care_brings_its_caution(things: str, icon: str):
    assert icon in icons(things)


@pytest.mark.parametrize(
    "things", ["", "spoons", "socks and pegs", "shortcut", "cushions", "hotel"]
)
def test_harmless_things_bring_none(things: str):
    assert icons(things) == []


def test_what_the_teacher_says_comes_first_and_is_not_said_twice():
    own = "Only an adult uses the knife."

    said = cautions("Cut the bread.", own)

    assert said[0] == ("caution", own)
    assert [icon for icon, _sentence in said] == ["caution", "food"]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_that_names_small_things_food_or_blades_has_its_caution(kind: str):
    known = KINDS[kind]

    said = " ".join(text for _icon, text in cautions(" ".join(known.fetch), known.caution or ""))

    for word, caution in (("bread", "allergies"), ("flour", "allergies"), ("dice", "mall things")):
        if any(word in thing for thing in known.fetch):
            assert caution in said

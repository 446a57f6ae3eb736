"""The cautions of a family's card: what the things of a part call for, in plain words.

Usual household caution for children under five. Food, choking and button batteries follow the
public advice of the Department for Education (food safety for early years) and the Office for
Product Safety and Standards; water, heat and blades are common practice, no source. Each
sentence is general: the school's own policy and local rules come first, and the card says so.
"""

import re
from typing import NamedTuple

from django.utils.translation import gettext_lazy as _


class Topic(NamedTuple):
    """One danger: its icon, the words that call for it, and the caution itself."""

    icon: str
    things: re.Pattern[str]
    covered_by: re.Pattern[str]
    sentence: str  # translated when it is shown


def _words(*words: str) -> re.Pattern[str]:
    """Match any of *words*, whole, in the singular or plural."""
    return re.compile(rf"\b(?:{'|'.join(words)})(?:s|es)?\b", re.IGNORECASE)


FOOD = (
    *("food", "fruit", "apple", "banana", "orange", "pear", "plum", "melon", "berry", "berries"),
    *("carrot", "tomato", "cucumber", "pea", "potato", "pepper", "mushroom", "egg"),
    *("bread", "toast", "sandwich", "biscuit", "cracker", "cake", "cheese", "pizza", "pancake"),
)
# Too small or too round for a child under five to be given whole.
SMALL_FOOD = ("grape", "strawberry", "strawberries", "cherry", "cherries", "raisin", "blueberries")
SMALL = (
    *("button", "bead", "coin", "penny", "pennies", "pence", "marble", "pebble", "stone", "shell"),
    *("bean", "lentil", "pasta", "macaroni", "seed", "nut", "acorn", "conker", "counter"),
    *("bottle top", "lid", "dice", "small thing", "small toy", "block", "brick", "sweet"),
)

TOPICS = (
    Topic(
        "cut",
        _words("cut", "cutting", "slice", "slicing", "knife", "knives", "scissors", "blade"),
        _words("cut", "cutting", "knife", "knives", "scissors", "blade"),
        _("An adult does the cutting, and puts the knife or scissors away."),
    ),
    Topic(
        "food",
        _words(*FOOD, *SMALL_FOOD, "pasta", "nut"),
        _words("allergy", "allergies", "allergic"),
        _(
            "Check for food allergies first; a thing that is not food does just as well. "
            "Sit with your child while they eat."
        ),
    ),
    Topic(
        "food",
        _words(*SMALL_FOOD, "nut"),
        _words("quarter"),
        _("Cut small round food lengthways and into quarters. No whole nuts."),
    ),
    Topic(
        "small-parts",
        _words(*SMALL, *SMALL_FOOD),
        _words("small", "choke", "choking"),
        _("Small things can choke. Count them out and back in, away from younger children."),
    ),
    Topic(
        "battery",
        _words("battery", "batteries", "torch", "remote", "remote control", "scale", "calculator"),
        _words("battery", "batteries"),
        _("Check that a battery cannot come out. Never use button batteries to count with."),
    ),
    Topic(
        "water",
        _words("water", "bath", "sink", "bowl of water", "paddling pool", "puddle"),
        _words("water", "bath"),
        _("Stay beside your child all the time near water, and empty it straight after."),
    ),
    Topic(
        "heat",
        _words("oven", "hob", "kettle", "hot", "bake", "baking", "cook", "cooking"),
        _words("hot", "oven"),
        _("Keep your child away from anything hot. An adult uses the oven and the hob."),
    ),
)
ALWAYS = _(
    "An adult stays close by. If your school or doctor has told you something else about "
    "safety, follow that."
)


def cautions(things: str, caution: str) -> list[tuple[str, str]]:
    """Return the cautions of a part, each as (icon name, sentence), its own first.

    things: all that the part says to fetch and to do. caution: what the teacher says; a topic
    that it covers in its own words is not said a second time.
    """
    own = [("caution", caution)] if caution else []
    due = [
        (topic.icon, str(topic.sentence))
        for topic in TOPICS
        if topic.things.search(things) and not topic.covered_by.search(caution)
    ]
    return own + due

"""What is fetched or used at home, what each thing calls for, and where the advice is from.

One table of things and one of cautions. A caution is an order of one or two short sentences; a
family reads it in its own language. Each is general: the school's own policy and local rules come
first, and the card says so.

Sources. DFE: Department for Education, help for early years providers, food safety. OPSS: Office
for Product Safety and Standards, button batteries. The others: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

DFE = "Department for Education, help for early years providers: food safety"
OPSS = "Office for Product Safety and Standards: button batteries"
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Caution:
    """One danger: its icon, what to do about it, and the source of that.

    covered_by: words by which a teacher's own caution says it already.
    """

    icon: str
    order: str
    source: str
    covered_by: tuple[str, ...]


# In the order in which a card names them: what is gravest first.
CAUTIONS: Mapping[str, Caution] = MappingProxyType(
    {
        "small": Caution(
            "small-parts",
            "Keep small things out of mouths: your child can choke on them too. "
            "Count them out and back in, away from younger children.",
            "marbles and coins: Office for Product Safety and Standards (from memory)",
            ("small", "choke", "choking"),
        ),
        "quarters": Caution(
            "food",
            "Cut small round food lengthways and into quarters. Give no whole nuts or seeds.",
            DFE,
            ("quarter",),
        ),
        "battery": Caution(
            "battery",
            "Check that no battery can come out. Never count with button batteries. "
            "If a child swallows one, call 999 at once.",
            OPSS,
            ("battery", "batteries"),
        ),
        "water": Caution(
            "water",
            "Stay beside your child all the time near water, and empty it straight after.",
            PRACTICE,
            ("water", "bath"),
        ),
        "heat": Caution(
            "heat",
            "Keep your child away from anything hot. Only an adult uses the oven and the hob.",
            PRACTICE,
            ("hot", "oven"),
        ),
        "cut": Caution(
            "cut",
            "Only an adult cuts. Put the knife or scissors out of reach after.",
            PRACTICE,
            ("cut", "cutting", "scissors", "blade"),
        ),
        "knives": Caution(
            "cut",
            "Take knives and other sharp things out of reach first.",
            PRACTICE,
            ("knife", "knives", "sharp"),
        ),
        "bags": Caution(
            "warn",
            "Use cloth or paper bags. Keep plastic bags away from your child.",
            PRACTICE,
            ("bag",),
        ),
        "cords": Caution(
            "warn",
            "Keep cords and lines away from necks. Put them away after.",
            PRACTICE,
            ("cord", "neck"),
        ),
        "glass": Caution(
            "warn",
            "Use things that do not break. Keep glass away from your child.",
            PRACTICE,
            ("glass", "break"),
        ),
        "tins": Caution(
            "warn",
            "Use tins that are shut. Keep fingers off sharp edges.",
            PRACTICE,
            ("sharp edge", "tin"),
        ),
        "points": Caution(
            "warn",
            "Sit down with pointed things. Keep them away from eyes and mouths.",
            PRACTICE,
            ("point", "pointed"),
        ),
        "food": Caution(
            "food",
            "Check for food allergies first; a thing that is not food does just as well. "
            "Sit with your child while they eat.",
            DFE,
            ("allergy", "allergies", "allergic"),
        ),
        "flour": Caution(
            "food",
            "Check for allergies first. Touch flour and sand, do not taste them.",
            "raw flour: Food Standards Agency (from memory)",
            ("allergy", "allergies", "allergic"),
        ),
        "stairs": Caution("warn", "Hold hands on the stairs.", PRACTICE, ("stair",)),
        "road": Caution(
            "warn",
            "Stay with your child outside, and hold hands near a road.",
            PRACTICE,
            ("street", "road", "outside"),
        ),
        "doors": Caution(
            "warn",
            "Keep fingers clear of doors, drawers and pegs.",
            PRACTICE,
            ("finger",),
        ),
        "windows": Caution(
            "warn",
            "Keep windows shut, and keep chairs away from them.",
            PRACTICE,
            ("window",),
        ),
        "toys": Caution(
            "warn",
            "Check that the eyes and buttons of toys sit tight.",
            PRACTICE,
            ("tight",),
        ),
        "towers": Caution(
            "warn",
            "Build with light, empty boxes, no higher than your child.",
            PRACTICE,
            ("light", "empty"),
        ),
        "pins": Caution(
            "warn",
            "Take out pins, clips and staples first.",
            PRACTICE,
            ("pin", "staple"),
        ),
        "floor": Caution(
            "warn",
            "Clear the floor first so that nobody slips.",
            PRACTICE,
            ("slip", "floor"),
        ),
    }
)

_FOOD = (
    *("food", "fruit", "apple", "banana", "orange", "pear", "plum", "melon", "berry", "berries"),
    *("carrot", "tomato", "cucumber", "pea", "potato", "pepper", "mushroom", "egg"),
    *("bread", "toast", "sandwich", "biscuit", "cracker", "cake", "cheese", "pizza", "pancake"),
)
# Too small or too round for a child under five to be given whole.
_ROUND_FOOD = (
    *("grape", "strawberry", "strawberries", "cherry", "cherries", "raisin", "blueberries"),
    *("nut", "seed"),
)
_SMALL = (
    *("button", "bead", "coin", "penny", "pennies", "pence", "marble", "pebble", "stone", "shell"),
    *("bean", "lentil", "macaroni", "acorn", "conker", "counter", "bottle top", "dice", "key"),
    *("small thing", "small toy", "block", "brick", "sweet", "chalk"),
)
_BATTERY = (
    *("battery", "batteries", "torch", "remote", "remote control", "scale", "calculator"),
    *("talking book", "timer", "clock"),
)


def _each(names: tuple[str, ...], *calls: str) -> dict[str, tuple[str, ...]]:
    return dict.fromkeys(names, calls)


# The singular of a thing and the cautions it calls for.
THINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        **_each(_FOOD, "food"),
        **_each(_ROUND_FOOD, "small", "quarters", "food"),
        **_each(_SMALL, "small"),
        **_each(_BATTERY, "battery"),
        **_each(("pasta",), "small", "food"),
        **_each(("water", "wet", "bath", "sink", "sponge", "bucket", "pool", "puddle"), "water"),
        **_each(("oven", "hob", "kettle", "hot", "bake", "baking", "cook", "cooking"), "heat"),
        **_each(("cut", "cutting", "slice", "slicing", "knife", "knives"), "cut"),
        **_each(("scissors", "blade", "scrap paper"), "cut"),
        **_each(("spoon", "drawer", "cutlery"), "knives"),
        **_each(("fork",), "knives", "points"),
        **_each(("bag", "sack", "plastic", "balloon"), "bags"),
        **_each(("cord", "string", "ribbon", "lace", "rope", "wool", "necklace", "scarf"), "cords"),
        **_each(("washing line", "on the line", "off a line"), "cords"),
        **_each(("cup", "mug", "glass", "plate", "bowl", "jar", "dish", "bottle"), "glass"),
        **_each(("mirror", "tray"), "glass"),
        **_each(("tin", "canned"), "tins"),
        **_each(("pencil", "pen", "straw", "lolly stick", "stick", "brush", "hanger"), "points"),
        **_each(("flour", "sand", "dough"), "flour"),
        **_each(("stair",), "stairs"),
        **_each(("street", "road", "outside", "garden", "park", "ground", "wall"), "road"),
        **_each(("door", "cupboard"), "doors"),
        **_each(("window",), "windows"),
        **_each(("peg", "lid"), "small", "doors"),
        **_each(("teddy", "teddies", "toy", "doll"), "toys"),
        **_each(("box", "tower"), "towers"),
        **_each(("paper", "card", "page", "book", "calendar", "leaf", "leaves"), "pins"),
        **_each(("sock", "shoe", "cushion", "cloth", "towel", "floor"), "floor"),
        **_each(("stamp", "jump", "hop"), "floor"),
        **_each(("things in the story",), "knives", "glass", "tins"),
    }
)


def _words(words: tuple[str, ...] | Mapping[str, object]) -> re.Pattern[str]:
    """Match any of *words*, whole, in the singular or plural; the longest that fits."""
    longest_first = "|".join(sorted(map(re.escape, words), key=len, reverse=True))
    return re.compile(rf"\b({longest_first})(?:s|es)?\b", re.IGNORECASE)


_THING = _words(THINGS)
_COVERED = {key: _words(caution.covered_by) for key, caution in CAUTIONS.items()}
# What kinds said before there was one table; work that was set then still holds it.
FORMER = frozenset(
    {
        "Keep small things away from younger brothers and sisters.",
        "If food is shared or cut, an adult cuts it and sits with the child; check allergies "
        "first.",
        "Stairs only with an adult.",
        "Folding is enough; cutting only with an adult.",
        "In the street, hold hands.",
        "A mirror only with an adult.",
        "Flour is for touching, not tasting; check allergies first.",
    }
)
_SENTENCE_ENDS = re.compile(r"(?<=[.!?])\s+")


def things_in(words: str) -> list[str]:
    """List the things that *words* name, in the singular of the table, each once.

    >>> things_in("two plates and some Spoons")
    ['plate', 'spoon']
    """
    return list(dict.fromkeys(found[1].lower() for found in _THING.finditer(words)))


def cautions_for(words: str, own: str = "") -> list[Caution]:
    """Return what the things named in *words* call for, the gravest first, each once.

    own: what the teacher says of it; what that covers is not said a second time.

    >>> [caution.icon for caution in cautions_for("bowls and pegs", "Mind your fingers.")]
    ['small-parts', 'warn']
    """
    called = {key for thing in things_in(words) for key in THINGS[thing]}
    return [
        caution
        for key, caution in CAUTIONS.items()
        if key in called and not _COVERED[key].search(own)
    ]


def own_part(caution: str) -> str:
    """Return what a teacher wrote of *caution*, without what kinds said before the table.

    >>> own_part("Stairs only with an adult. Mind the cat.")
    'Mind the cat.'
    """
    said = _SENTENCE_ENDS.split(caution)
    return " ".join(each for each in said if each not in FORMER)

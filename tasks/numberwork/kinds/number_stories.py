"""Telling a number story: for a picture or a number sentence, and a sign for a story."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, FIRST, MANY, SECOND, sentences
from tasks.numberwork.kinds.story_problems import ADDED, STOCK, TOOK
from tasks.numberwork.pictures import Counters, Picture, TwoLots
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

WRONG_SIGN = "mixed up add and take away"
SIGNS = ("+", "−")
PUT, TAKEN = "sign, put there", "sign, taken away"
FORMS = {
    WITH_SUPPORT: ("joined", "taken away"),
    CORE: ("plus", "minus"),
    CHALLENGE: ("missing", PUT, TAKEN),
}
TAKING = ("taken away", "minus", TAKEN)
DRAWN = 10  # the most that a picture with support shows


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List what to tell a story for: a picture, a number sentence, one with a gap, and the sign.

    The story is heard and looked at by the teacher; what is written is how many in the end.
    Source: Common Core K.OA.A.1, "acting out situations, verbal explanations". That the child
    tells it: common practice, no source.
    """
    most = min(within, DRAWN) if depth == WITH_SUPPORT else within
    for form in FORMS[depth]:
        for whole in range(2, most + 1):
            for part in range(1, whole):
                yield _ask(form, part, whole - part)


def _ask(form: str, part: int, other: int) -> Ask:
    """Ask for one story about two parts: put together, or one taken from the whole."""
    whole = part + other
    told = (whole, part) if form in TAKING else (part, other)
    fact = f"{form}:{told[0]},{told[1]}"
    if form in (PUT, TAKEN):
        right, wrong = SIGNS if form == PUT else SIGNS[::-1]
        return Ask(form, fact, told, right, {WRONG_SIGN: wrong}, choices=SIGNS)
    right_number = other if form in TAKING or form == "missing" else whole
    told = (part, whole) if form == "missing" else told
    slips: dict[str, Answer | None] = {
        ADDED: sum(told),
        TOOK: abs(told[0] - told[1]),
        FIRST: told[0],
        SECOND: told[1],
        FEW: right_number - 1,
        MANY: right_number + 1,
    }
    return Ask(form, fact, told, right_number, wrong_answers(slips, right_number))


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw what to tell of with support: two lots, or some that are crossed out."""
    if depth != WITH_SUPPORT:
        return None
    one, other = ask.numbers
    return TwoLots(one, other) if ask.form == "joined" else Counters(one, other)


def _things(ask: Ask, variant: int) -> tuple[str, ...]:
    """Return what the story is about, and where, in which the sign is to be found."""
    return STOCK[variant] if ask.form in (PUT, TAKEN) else ()


NUMBER_STORIES = Kind(
    name="number-stories",
    title="Telling number stories",
    practises="Telling a story that fits a picture or a number sentence",
    ranges=(5, 10, 20),
    example="tell a story for 3 + 2: □ in the end",
    forms={
        "joined": "A story for a picture of two lots",
        "taken away": "A story for a picture in which some are crossed out",
        "plus": "A story for a number sentence with +",
        "minus": "A story for a number sentence with −",
        "missing": "A story for a number sentence with a gap",
        PUT: "A story is told, more are put there: which sign?",
        TAKEN: "A story is told, some are taken away: which sign?",
    },
    mistakes={
        ADDED: "Added the two numbers",
        TOOK: "Took one number from the other",
        **sentences(FIRST, SECOND, FEW, MANY),
        WRONG_SIGN: "Mixed up the sign to add and the sign to take away",
    },
    depths={
        "with support": "A story for a picture, to ten",
        "core": "A story for a number sentence with + or −",
        "challenge": "A story for a number sentence with a gap; the sign for a story",
    },
    fetch=("toys to act it out", "fingers", "paper and pencil to draw it"),
    say="Tell me a story for this. What was there first? What happened? How do you know?",
    right="The story fits the numbers: what was there first, what happened, how many in the end.",
    seconds=75,
    asks=_asks,
    picture=_picture,
    things=_things,
    variants=len(STOCK),
)

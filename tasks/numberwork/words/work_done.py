"""Saying in English what a child did with one question: "You halved: 12 = 6 + 6".

The words name the doing, the figures what was found: they are the same in every language.
"""

from __future__ import annotations

import re

from tasks.numberwork.prompt import Prompt
from tasks.numberwork.words import BOX, write

_COUNTED = "You counted how many"
# What was done, by kind. Kinds that are not here are shown or said, not worked out in figures.
DID = {
    "counting-on-in-ones": "You counted on in ones",
    "counting-on-in-twos": "You counted on in twos",
    "counting-on-in-fives": "You counted on in fives",
    "counting-on-in-tens": "You counted on in tens",
    "counting-back-in-ones": "You counted back in ones",
    "counting-back-in-twos": "You counted back in twos",
    "counting-back-in-fives": "You counted back in fives",
    "counting-back-in-tens": "You counted back in tens",
    "counting-amounts": _COUNTED,
    "count-out": _COUNTED,
    "counting-sounds": _COUNTED,
    "estimate-and-count": _COUNTED,
    "missing-number": "You found the missing number",
    "number-names": "You found the number",
    "hundred-square": "You found the number",
    "one-more": "You found one more",
    "one-less": "You found one less",
    "number-of-the-day": "You worked it out",
    "subitising": "You saw how many",
    "number-bonds": "You found the parts",
    "adding": "You added",
    "taking-away": "You took away",
    "missing-part": "You found the missing part",
    "finger-doubles": "You doubled",
    "doubling": "You doubled",
    "halving": "You halved",
    "halving-number-sentence": "You halved",
    "sharing-equally": "You made equal groups",
    "comparing-signs": "You compared",
    "ordering": "You put them in order",
}
FIGURES = re.compile(r"[\d\s,+−×÷=<>]*\d")
SIGNS = ("<", ">", "=")
_EQUAL_PARTS = {"double", "both hands", "the same again"}
_OF_TWO_PARTS = {"half of", "equals first"}


def work_done(prompt: Prompt) -> str:
    """Say what a child did who answered *prompt* rightly; "" where figures do not tell it.

    >>> from tasks.numberwork import make_prompts
    >>> work_done(make_prompts("halving", 10, 1, 4, "core")[0])
    'You halved: 8 = 4 + 4'
    """
    did, found = DID.get(prompt.kind, ""), figures_of(prompt)
    return f"{did}: {found}" if did and found else ""


def figures_of(prompt: Prompt) -> str:
    """Return what is found by *prompt* in figures and signs alone; "" where it cannot be said so.

    A number sentence is true as it stands; of a count it is the numbers in their order, of an
    amount the number.
    """
    answer, numbers, form = prompt.answer, prompt.numbers, prompt.form
    if prompt.is_open or prompt.is_own or (isinstance(answer, str) and answer not in SIGNS):
        return ""
    if isinstance(answer, tuple):
        return ", ".join(map(str, answer))
    filled = write(prompt).replace(BOX, str(answer), 1) if BOX in write(prompt) else ""
    if FIGURES.fullmatch(filled):
        return filled
    return _in_figures(prompt.kind, form, numbers, answer)


def _in_figures(kind: str, form: str, numbers: tuple[int, ...], answer: int | str) -> str:
    """Write as a number sentence what is asked in words."""
    first = numbers[0] if numbers else 0
    match kind, form:
        case ("one-more", "unknown"):
            return f"{answer} + 1 = {first}"
        case ("one-less", "unknown"):
            return f"{answer} − 1 = {first}"
        case ("one-more", _) | ("number-of-the-day", "one more"):
            return f"{first} + 1 = {answer}"
        case ("one-less", _) | ("number-of-the-day", "one less"):
            return f"{first} − 1 = {answer}"
        case ("doubling" | "finger-doubles", _) if form in _EQUAL_PARTS:
            return f"{first} + {first} = {answer}"
        case ("doubling" | "finger-doubles", _):
            return f"{answer} + {answer} = {first}"
        case ("halving", _) if form in _OF_TWO_PARTS:
            return f"{first} = {answer} + {answer}"
        case ("halving", _):
            return f"{answer} = {first} + {first}"
        case ("sharing-equally", "each"):
            return f"{first} = {' + '.join([str(answer)] * numbers[1])}"
        case ("sharing-equally", "how many"):
            return f"{answer} = {' + '.join([str(numbers[1])] * first)}"
        case (other, "after") if other.startswith("counting-"):
            return f"{first}, {answer}"
    return str(answer)

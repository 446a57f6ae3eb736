"""A whole and two parts, with the box in every place: number bonds and missing parts."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.kinds.mistakes import FEW, FROM_START, SENTENCES
from tasks.numberwork.pictures import NumberLine, PartWhole, Picture, hops
from tasks.numberwork.prompt import CORE, WITH_SUPPORT, Answer

WHOLE, PART = "said the whole", "said the part again"
ADDED, TOOK = "added the numbers", "took the numbers away"

PART_FORMS = {
    "second part": "The second part is missing: 5 + □ = 8",
    "first part": "The first part is missing: □ + 3 = 8",
    "equals first, second part": "The whole comes first: 8 = 5 + □",
    "equals first, first part": "The whole comes first: 8 = □ + 3",
    "taken away": "What was taken away is missing: 8 − □ = 5",
    "start": "The number to start from is missing: □ − 3 = 5",
    "both parts": "Both parts are open: 8 = □ + □, more than one answer is right",
}

PART_MISTAKES = {
    WHOLE: "Said the whole",
    PART: "Said the part that was given again",
    ADDED: "Added the two numbers that are given",
    TOOK: "Took the two numbers away from each other",
    FROM_START: SENTENCES[FROM_START],
    FEW: SENTENCES[FEW],
    **DIGITS,
}


def part_mistakes(whole: int, part: int) -> dict[str, Answer | None]:
    """Predict wrong answers where a part is missing.

    Counting on from the part itself gives one too many (5, 6, 7, 8 from 5 to 8: Fuson 1988,
    from memory). The others: common practice, no source.
    """
    right = whole - part
    return {
        WHOLE: whole,
        PART: part,
        ADDED: whole + part,
        FROM_START: right + 1,
        FEW: right - 1,
        **digit_mistakes(right),
    }


def missing(whole: int, first: int, form: str) -> Ask:
    """Ask for what is missing when *first* and the rest of *whole* are the two parts."""
    second = whole - first
    fact = f"{first},{second},{whole}"
    if form == "start":
        slips: dict[str, Answer | None] = {
            TOOK: abs(first - second),
            PART: second,
            FROM_START: whole + 1,
            FEW: whole - 1,
            **digit_mistakes(whole),
        }
        return Ask(form, fact, (second, first), whole, wrong_answers(slips, whole))
    if form in ("first part", "equals first, first part"):
        wrong = wrong_answers(part_mistakes(whole, second), first)
        return Ask(form, fact, (second, whole), first, wrong)
    wrong = wrong_answers(part_mistakes(whole, first), second)
    return Ask(form, fact, (first, whole), second, wrong)


def both_parts(whole: int) -> Ask:
    """Ask for any two parts of *whole*: all *whole* + 1 ordered answers are right."""
    pairs = tuple((part, whole - part) for part in range(whole + 1))
    return Ask("both parts", f"{whole}", (whole,), pairs[0], {}, answers=pairs)


def picture_of_parts(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw a number line to count along with support, a whole with an empty part at core."""
    if ask.form == "both parts" or depth not in (WITH_SUPPORT, CORE):
        return None
    known, whole = ask.numbers
    if depth == WITH_SUPPORT and known < whole:
        return NumberLine(0, max(5, whole), marked=(known, whole), jumps=hops(known, whole))
    first_missing = ask.form in ("first part", "equals first, first part")
    return PartWhole(whole, (None, known) if first_missing else (known, None))


def every_bond(wholes: range, forms: tuple[str, ...], least: int) -> Iterator[Ask]:
    """List the parts of each whole in these forms, no part smaller than *least*."""
    for whole in wholes:
        for first in range(least, whole + 1 - least):
            for form in forms:
                yield missing(whole, first, form)

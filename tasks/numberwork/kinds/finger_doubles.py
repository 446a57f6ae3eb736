"""Doubles on fingers: the same on both hands, seen at once."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, MANY, SELF, sentences
from tasks.numberwork.pictures import Picture, TwoHands
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

ONE_HAND, ONE_MORE = "said one hand only", "put up one more"
FORMS = {
    WITH_SUPPORT: ("both hands",),
    CORE: ("both hands", "the same again"),
    CHALLENGE: ("one hand", "the same again"),
}


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List the doubles of one to five. Common practice, no source."""
    for number in range(1, 6):
        whole = 2 * number
        for form in FORMS[depth]:
            slips: dict[str, Answer | None] = {
                ONE_HAND: number,
                ONE_MORE: number + 1,
                FEW: whole - 1,
                MANY: whole + 1,
            }
            if form == "one hand":
                slips = {SELF: whole, FEW: number - 1, MANY: number + 1}
                wrong = wrong_answers(slips, number)
                yield Ask(form, f"half:{number}", (whole,), number, wrong)
            else:
                yield Ask(form, str(number), (number,), whole, wrong_answers(slips, whole))


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw both hands, or the one hand that is to be shown again; nothing beyond."""
    if depth == CHALLENGE:
        return None
    number = ask.numbers[0]
    return TwoHands(number, number if ask.form == "both hands" else 0)


FINGER_DOUBLES = Kind(
    name="finger-doubles",
    title="Doubles on fingers",
    practises="Showing the same on both hands and knowing how many that makes",
    ranges=(10,),
    example="4 fingers and 4 fingers: □",
    forms={
        "both hands": "The same on both hands: how many fingers?",
        "the same again": "One hand is shown, the child shows the same on the other",
        "one hand": "How many are on both is given, how many on one is asked for",
    },
    mistakes={
        ONE_HAND: "Said the fingers of one hand only",
        ONE_MORE: "Put up one more finger and not the same again",
        **sentences(FEW, MANY, SELF),
    },
    depths={
        "with support": "Both hands are drawn",
        "core": "Both hands, or one hand to be shown again on the other",
        "challenge": "No picture; or how many are on one hand",
    },
    fetch=("both hands", "two hands drawn on paper", "one hand and a mirror"),
    say="Show it on one hand. Now the same on the other. How many is that? Did you have to count?",
    right="Both hands show the same, and the child says how many without counting every finger.",
    seconds=25,
    asks=_asks,
    picture=_picture,
)

"""Writing numerals."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.digits import SENTENCES as DIGITS
from tasks.numberwork.kinds.digits import digit_mistakes
from tasks.numberwork.kinds.mistakes import FEW, MANY, SELF, sentences
from tasks.numberwork.pictures import NumeralTrace, Picture, TenFrame
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT, Answer

MIRRORED = "wrote it back to front"
BACK_TO_FRONT = "back to front"  # the answer a grown-up gives for a mirrored numeral
SIX_NINE, TWO_FIVE = "mixed up 6 and 9", "mixed up 2 and 5"
IN_FULL = "wrote the ten and the ones in full"


def _exchanged(number: int, one: str, other: str) -> int:
    """Return the number with two digits exchanged for each other."""
    return int(str(number).translate(str.maketrans(one + other, other + one)))


def write_mistakes(number: int) -> dict[str, Answer | None]:
    """Predict how *number* is miswritten. Common practice, no source; 18 as 81: NRC 2009 p. 147."""
    lopsided = any(digit in "2345679" for digit in str(number))
    return {
        MIRRORED: BACK_TO_FRONT if lopsided else None,
        SIX_NINE: _exchanged(number, "6", "9"),
        TWO_FIVE: _exchanged(number, "2", "5"),
        IN_FULL: 100 + number - 10 if 11 <= number <= 19 else None,
        **digit_mistakes(number),
    }


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List the numerals to trace, to write when heard, and to write for an amount."""
    for number in range(within + 1):
        slips = write_mistakes(number)
        fact, wrong = f"{number}", wrong_answers(slips, number)
        if depth == WITH_SUPPORT:
            yield Ask("trace", fact, (number,), number, wrong)
        elif depth != CHALLENGE:
            yield Ask("hear", fact, (number,), number, wrong)
        else:
            counted = {FEW: number - 1, MANY: number + 1}
            yield Ask("amount", fact, (), number, wrong_answers(slips | counted, number))
            if number:
                after = wrong_answers({**slips, SELF: number - 1, MANY: number + 1}, number)
                yield Ask("after", fact, (number - 1,), number, after)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the numeral to trace with support; an amount where the numeral must not be seen."""
    if ask.form == "trace":
        return NumeralTrace(ask.numbers[0])
    return TenFrame(int(ask.fact)) if ask.form in ("hear", "amount") else None


NUMBER_FORMATION = Kind(
    name="number-formation",
    title="Writing numbers",
    practises="Writing numerals the right way round, starting in the right place",
    ranges=(5, 10, 20),
    example="write the number seven: □",
    forms={
        "trace": "A numeral to trace, then to write",
        "hear": "A number to write when it is heard",
        "amount": "An amount to count and write",
        "after": "The number after another, to write",
    },
    mistakes={
        MIRRORED: "Wrote a numeral back to front",
        SIX_NINE: "Mixed up 6 and 9",
        TWO_FIVE: "Mixed up 2 and 5",
        IN_FULL: "Wrote the ten and the ones in full (such as 104 for 14)",
        **sentences(FEW, MANY, SELF),
        **DIGITS,
    },
    depths={
        "with support": "The numeral is there to trace, with a dot where to start",
        "core": "The number is only heard; an amount is shown",
        "challenge": "The number has to be found first, by counting or as the next one",
    },
    fetch=(
        "a finger in flour or sand on a tray",
        "a wet brush on a wall outside",
        "a pencil and squared paper",
    ),
    say="Where do you start? Which way does it go? Say it as you write.",
    right="The numeral starts in the right place and faces the right way; size matters less.",
    seconds=45,
    asks=_asks,
    picture=_picture,
)

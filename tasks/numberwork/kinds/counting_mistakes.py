"""Mistakes in the spoken count, on and back, in equal steps."""

from __future__ import annotations

from collections.abc import Iterable

from tasks.numberwork.kinds import digits
from tasks.numberwork.prompt import Answer
from tasks.numberwork.words.numbers import number_word

SAME, MISSED, OTHER_WAY = "said the same number", "missed one out", "counted the other way"
ONES = "counted in ones"
STOPPED, JUMPED = "stopped at the end of a ten", "jumped a ten"
NO_ROUND, TWENTY_TEN = "left out the round number", "said twenty-ten"
TWO_HUNDRED, KEPT_TEN = "went from a hundred to two hundred", "kept the same ten"

SENTENCES = {
    SAME: "Said the last number again",
    MISSED: "Missed a number out of the count",
    OTHER_WAY: "Counted the other way",
    ONES: "Counted in ones instead of in steps",
    STOPPED: "Stopped where a new ten begins",
    JUMPED: "Jumped a whole ten (such as 29 to 40)",
    NO_ROUND: "Left out the round number (such as 29 to 31)",
    TWENTY_TEN: "Said ten instead of starting a new ten (such as twenty-ten)",
    TWO_HUNDRED: "Went on to two hundred just after one hundred",
    KEPT_TEN: "Kept the same ten when counting back (such as 30 to 39)",
    **digits.SENTENCES,
}


def crosses_a_ten(last: int, step: int) -> bool:
    """Tell whether the count by *step* (below 0: back) leaves the ten it is in, above ten.

    Common practice, no source: 19 to 20, 29 to 30 … are the tricky steps of a count in ones.
    """
    return last >= 19 and (last + step) // 10 != last // 10


def count_mistakes(last: int, step: int) -> dict[str, Answer | None]:
    """Predict what is said after *last* when counting by *step* (below 0: back).

    Decade mistakes: common practice, no source.
    """
    right = last + step
    predicted: dict[str, Answer | None] = {
        SAME: last,
        MISSED: last + 2 * step,
        OTHER_WAY: last - step,
        **digits.digit_mistakes(right),
    }
    if abs(step) > 1:
        predicted[ONES] = last + step // abs(step)
    elif crosses_a_ten(last, step):
        predicted |= _crossing(last, right)
    if right > 100 and step > 0 and (last == 100 or crosses_a_ten(last, step)):
        predicted[TWO_HUNDRED] = 200
    return predicted


def _crossing(last: int, right: int) -> dict[str, Answer | None]:
    """Predict what is said where a count in ones enters a new ten."""
    if right < last:
        return {STOPPED: last, JUMPED: right - 10, KEPT_TEN: right + 10}
    ten_ten = f"{number_word(last - last % 10)}-ten" if 20 < last < 100 else None
    return {STOPPED: last, JUMPED: right + 10, NO_ROUND: right + 1, TWENTY_TEN: ten_ten}


def sentences_for(names: Iterable[str]) -> dict[str, str]:
    """Return the teacher's sentence of each of these mistakes."""
    return {name: SENTENCES[name] for name in names}

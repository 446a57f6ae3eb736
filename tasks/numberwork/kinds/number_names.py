"""The names of numbers past twenty: from the numeral, against one that sounds like it, onwards."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds import counting_mistakes as slips
from tasks.numberwork.kinds.digits import SWAPPED, TEEN_TY, digit_mistakes, swapped, teen_or_ty
from tasks.numberwork.kinds.mistakes import SAME_EACH_TIME_FIRST, SAME_EACH_TIME_LAST, sentences
from tasks.numberwork.pictures import NumberCards, Picture
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

LEAST = 13  # the first teen number that sounds like one of the tens
UNLIKE = 13  # how far a number is from one that shares neither ten nor ones with it
OF_THE_COUNT = (
    *(slips.SAME, slips.MISSED, slips.OTHER_WAY, slips.STOPPED, slips.JUMPED),
    *(slips.NO_ROUND, slips.TWENTY_TEN),
)


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List cards to choose from and to name, and at and near a new ten what comes next.

    Sources: that 13 is taken for 30: Zuber et al. 2009 (from memory); 18 for 81: NRC 2009 p. 147;
    the new tens: common practice, no source.
    """
    for number in range(LEAST, within + 1):
        if depth == WITH_SUPPORT:
            yield _which(number, _unlike(number, within), {})
            if number % 10 == 0 or 20 < number < 30:
                yield _read(number)
            continue
        if depth == CORE:
            yield from _alike(number, within)
        if (number > 20 and number % 10) or depth == CORE:
            yield _read(number)
    if depth != WITH_SUPPORT:
        yield from _counted(within, depth)


def _unlike(number: int, within: int) -> int:
    """Return a number of the range with another ten and other ones."""
    return number + UNLIKE if number + UNLIKE <= within else number - UNLIKE


def _alike(number: int, within: int) -> Iterator[Ask]:
    """Choose between a number and the one it is taken for."""
    for other, mistake in ((teen_or_ty(number), TEEN_TY), (swapped(number), SWAPPED)):
        if other and LEAST <= other <= within:
            yield _which(number, other, {mistake: other})


def _which(number: int, other: int, taken_for: dict[str, Answer | None]) -> Ask:
    """Choose the card that was named; odd numbers lie on the right."""
    cards = (other, number) if number % 2 else (number, other)
    slip = {SAME_EACH_TIME_FIRST: cards[0], SAME_EACH_TIME_LAST: cards[1], **taken_for}
    fact = f"{number}:{cards[0]},{cards[1]}"
    return Ask("which", fact, (number, *cards), number, wrong_answers(slip, number))


def _read(number: int) -> Ask:
    """Name the number on a card; what the child says is written down."""
    wrong = wrong_answers(dict(digit_mistakes(number)), number)
    return Ask("read", f"read:{number}", (number,), number, wrong)


def _counted(within: int, depth: str) -> Iterator[Ask]:
    """Go on from the end of a ten; with challenge fill a count that runs into a new ten."""
    for ten in range(20, within + 1, 10):
        for right in (ten - 1, ten, ten + 1):
            wrong = wrong_answers(slips.count_mistakes(right - 1, 1), right)
            if depth == CORE and right <= within and right != ten - 1:
                yield Ask("after", f"after:{right - 1}", (right - 1,), right, wrong)
            elif depth == CHALLENGE and 20 < right < within:
                told = (right - 2, right - 1, right + 1)
                yield Ask("gap", f"gap:{right}", told, right, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the cards; a count that is gone on with has none but for its gap."""
    if ask.form == "which":
        return NumberCards(ask.numbers[1:])
    if ask.form == "read":
        return NumberCards(ask.numbers)
    return NumberCards((*ask.numbers[:2], None, ask.numbers[2])) if ask.form == "gap" else None


NUMBER_NAMES = Kind(
    name="number-names",
    title="Number names past 20",
    practises="Saying the names of numbers past 20, also where a new ten begins",
    ranges=(50, 100),
    example="what comes after 29? □",
    forms={
        "which": "Two cards: which is the number that is named?",
        "read": "A card to name; what the child says is written down",
        "after": "What comes after the end of a ten?",
        "gap": "A count into a new ten with a gap",
    },
    mistakes={
        TEEN_TY: "Mixed up the teens and the tens (such as 14 and 40)",
        SWAPPED: "Named the two digits the other way round (such as 43 for 34)",
        **sentences(SAME_EACH_TIME_FIRST, SAME_EACH_TIME_LAST),
        **slips.sentences_for(OF_THE_COUNT),
    },
    depths={
        "with support": "Cards that are not alike; the tens, and 21 to 29",
        "core": "Cards that are easily mixed up; any number; into a new ten",
        "challenge": "Any number with tens and ones, and a gap at a new ten",
    },
    fetch=("number cards made from scrap paper", "page numbers of a book", "a calendar page"),
    say="Say it slowly. How many tens? How many ones? How do you know?",
    right="The child says the whole number, tens and ones, and goes on into the next ten.",
    seconds=25,
    asks=_asks,
    picture=_picture,
)

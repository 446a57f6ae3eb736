"""Odd and even numbers, and which numbers can be halved."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import (
    SAME_EACH_TIME_FIRST,
    SAME_EACH_TIME_LAST,
    sentences,
)
from tasks.numberwork.pictures import NumberCards, Picture, Plates, TenFrame, TwoRows
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

EVEN, ODD = "always even", "always odd"
TURNED, TENS = "mixed up odd and even", "looked at the first digit"
LARGEST, SMALLEST = "chose the largest", "chose the smallest"
YES, NO, OTHER = "always yes", "always no", "mixed up yes and no"


def parity(number: int) -> str:
    """Say whether a number is "odd" or "even"."""
    return "odd" if number % 2 else "even"


def _odd_or_even(within: int, depth: str) -> Iterator[Ask]:
    """List the numbers of the range from 1: up to ten with support, two digits for challenge."""
    low = min(within, 10) // 2 if depth == CHALLENGE and within <= 10 else 1
    low = 11 if depth == CHALLENGE and within > 10 else low
    high = min(within, 10) if depth == WITH_SUPPORT else within
    for number in range(low, high + 1):
        right = parity(number)
        slips: dict[str, Answer | None] = {
            EVEN: "even",
            ODD: "odd",
            TURNED: parity(number + 1),
            TENS: parity(int(str(number)[0])),
        }
        wrong = wrong_answers(slips, right)
        yield Ask("odd or even", f"{number}", (number,), right, wrong, choices=("odd", "even"))


def _odd_even_picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the number in twos with support, in a ten frame at core."""
    number = ask.numbers[0]
    if depth == WITH_SUPPORT:
        return TwoRows(number - number // 2, number // 2)
    return TenFrame(number) if depth == CORE and number <= 20 else None


def _can_be_halved(within: int, depth: str) -> Iterator[Ask]:
    """List single numbers (yes or no), and sets of cards with one that can (or cannot)."""
    if depth != CHALLENGE:
        for number in range(1, within + 1):
            right, other = ("yes", "no") if number % 2 == 0 else ("no", "yes")
            wrong = wrong_answers({YES: "yes", NO: "no", OTHER: other}, right)
            yield Ask("yes or no", f"{number}", (number,), right, wrong, choices=("yes", "no"))
    if depth != WITH_SUPPORT:
        wanted = 0 if depth == CORE else 1
        yield from _cards(within, "which can" if wanted == 0 else "which cannot", wanted)


def _cards(within: int, form: str, remainder: int) -> Iterator[Ask]:
    """List threes of neighbouring cards of which one, in any place, has this *remainder* by 2."""
    for number in range(2 + remainder, within + 1, 2):
        for one, two in ((-1, 1), (1, 3), (-3, -1)):
            others = (number + one, number + two)
            if not (min(others) >= 1 and max(others) <= within):
                continue
            for cards in permutations((number, *others)):
                slips = {
                    LARGEST: max(cards),
                    SMALLEST: min(cards),
                    SAME_EACH_TIME_FIRST: cards[0],
                    SAME_EACH_TIME_LAST: cards[-1],
                }
                fact = ",".join(map(str, cards))
                yield Ask(form, fact, cards, number, wrong_answers(slips, number))


def _halved_picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the cards, or the number shared out with support and in a heap at core."""
    if len(ask.numbers) > 1:
        return NumberCards(ask.numbers)
    each, left = divmod(ask.numbers[0], 2)
    if depth == WITH_SUPPORT:
        return Plates((each, each), loose=left)
    return Plates((0, 0), loose=ask.numbers[0])


ODD_OR_EVEN = Kind(
    name="odd-or-even",
    title="Odd or even",
    practises="Telling numbers that make pairs from numbers with one left over",
    ranges=(5, 10, 20, 50, 100),
    example="7 is odd or even? □",
    forms={"odd or even": "Is the number odd or even?"},
    mistakes={
        EVEN: "Said even",
        ODD: "Said odd",
        TURNED: "Used the words odd and even the other way round",
        TENS: "Looked at the first digit instead of the last",
    },
    depths={
        "with support": "Numbers to ten, drawn in pairs",
        "core": "Every number of the range, in a ten frame up to twenty",
        "challenge": "The larger numbers, without a picture",
    },
    fetch=("socks or shoes to put in pairs", "spoons in two rows", "cups in pairs"),
    say="Has everyone a partner? Is one left over?",
    right="The child makes pairs and sees whether one is left; then uses the word.",
    seconds=50,
    asks=_odd_or_even,
    picture=_odd_even_picture,
)

CAN_IT_BE_HALVED = Kind(
    name="can-it-be-halved",
    title="Two equal groups",
    practises="Finding out which numbers make two equal groups with none left over",
    ranges=(5, 10, 20),
    example="6, 7, 9: which makes two equal groups with none left over? □",
    forms={
        "yes or no": "Does this number make two equal groups with none left over?",
        "which can": "Which of three numbers makes two equal groups?",
        "which cannot": "Which of three numbers leaves one over?",
    },
    mistakes={
        YES: "Said yes, it makes two equal groups",
        NO: "Said no, it does not make two equal groups",
        OTHER: "Took odd numbers for even ones, and the other way round",
        LARGEST: "Chose the largest number",
        SMALLEST: "Chose the smallest number",
        **sentences(SAME_EACH_TIME_FIRST, SAME_EACH_TIME_LAST),
    },
    depths={
        "with support": "One number, drawn on two plates: yes or no",
        "core": "One number in a heap, or the one of three cards that makes two equal groups",
        "challenge": "The one of three cards that leaves one over",
    },
    fetch=("two plates and some spoons", "two bowls and pegs", "socks to share with a teddy"),
    say="Try it: one here, one there. Did it come out the same? Is one left over?",
    right="The child shares one at a time, sees whether one is left over, and says so.",
    seconds=50,
    asks=_can_be_halved,
    picture=_halved_picture,
)

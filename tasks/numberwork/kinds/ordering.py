"""Putting numbers in order."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from tasks.numberwork.chance import Chance
from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.pictures import NumberCards
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT, Answer

LEFT, TURNED, LAST_DIGIT = (
    "left them as they were",
    "ordered the other way",
    "ordered by last digits",
)
MUDDLED_MIDDLE, MUDDLED_END = "swapped the middle two", "swapped the last two"
HOW_MANY = {WITH_SUPPORT: 3, CHALLENGE: 5}
MOST_CARDS = 4
LISTED = 240  # sets of cards listed for a range and depth, drawn once and for all


def _mistakes(cards: tuple[int, ...], ordered: tuple[int, ...]) -> dict[str, Answer | None]:
    """Predict how the cards are laid when they are not laid in order."""
    many_tens = sum(number >= 10 for number in cards) > 1
    middle = len(ordered) // 2 - 1 if len(ordered) > 3 else 0
    return {
        LEFT: cards,
        TURNED: ordered[::-1],
        LAST_DIGIT: tuple(sorted(cards, key=lambda number: number % 10)) if many_tens else None,
        MUDDLED_MIDDLE: _swapped(ordered, middle),
        MUDDLED_END: _swapped(ordered, len(ordered) - 2),
    }


def _swapped(cards: tuple[int, ...], place: int) -> tuple[int, ...]:
    """Return the cards with the one at *place* and its follower exchanged."""
    return (*cards[:place], cards[place + 1], cards[place], *cards[place + 2 :])


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List sets of different cards that do not lie in order yet.

    There are far too many to list, so a fixed draw stands for them.
    """
    size = min(HOW_MANY.get(depth, MOST_CARDS), within)
    chance = Chance("ordering", within, depth)
    apart = 2 if depth == WITH_SUPPORT and within > 5 else 1
    met: set[tuple[int, ...]] = set()
    for _ in range(40 * LISTED):
        cards = tuple(chance.below(within + 1) for _ in range(size))
        ordered = tuple(sorted(cards))
        gaps = [high - low for low, high in pairwise(ordered)]
        falling = depth == CHALLENGE and len(met) % 2 == 1
        right = ordered[::-1] if falling else ordered
        if cards in met or cards == right or min(gaps) < apart:
            continue
        met.add(cards)
        fact = ",".join(map(str, cards))
        form = "largest first" if falling else "smallest first"
        yield Ask(form, fact, cards, right, wrong_answers(_mistakes(cards, right), right))
        if len(met) == LISTED:
            return


def _picture(ask: Ask, depth: str, variant: int) -> NumberCards:
    """Draw the cards as they lie."""
    return NumberCards(ask.numbers)


ORDERING = Kind(
    name="ordering",
    title="Putting in order",
    practises="Laying numbers in order",
    ranges=(5, 10, 20, 50, 100),
    example="smallest first: 7, 3, 5 → □",
    forms={
        "smallest first": "Number cards to lay in order, smallest first",
        "largest first": "Number cards to lay in order, largest first",
    },
    mistakes={
        LEFT: "Left the cards as they were",
        TURNED: "Laid the cards the other way round",
        LAST_DIGIT: "Went by the last digits only",
        MUDDLED_MIDDLE: "Swapped two cards in the middle",
        MUDDLED_END: "Swapped the last two cards",
    },
    depths={
        "with support": "Three cards, well apart",
        "core": "Four cards",
        "challenge": "Five cards, sometimes the largest first",
    },
    fetch=(
        "number cards from scrap paper",
        "pages of an old calendar",
        "spoons in longer and longer lines",
    ),
    say="Which is smallest? Which comes next? How do you know?",
    right="The child lays them in order and reads them out; it may take several tries.",
    seconds=50,
    asks=_asks,
    picture=_picture,
)

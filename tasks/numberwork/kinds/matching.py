"""Matching to compare: one with one, what is left over, and whether there are enough."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.comparing import LARGER, OTHER_WAY, SAME, SMALLER
from tasks.numberwork.kinds.mistakes import FEW, MANY, sentences
from tasks.numberwork.kinds.shapes import NO, YES
from tasks.numberwork.pictures import LooseRows, Picture
from tasks.numberwork.prompt import CHALLENGE, WITH_SUPPORT, Answer

LONG_ROW = "went by the longer row"
SPOONS, CUPS, THE_SAME = "spoons", "cups", "the same"
CHOICES = (SPOONS, CUPS, THE_SAME)
FEWEST, MOST = 2, 8  # of a row on a card
ROWS = {SPOONS: "spoon", CUPS: "cup"}


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List rows to match: the longer has more; the longer has not; how many have no partner.

    Source: Common Core K.CC.C.6, "by using matching and counting strategies"; that young children
    go by the length of the row: Piaget 1952 (from memory).
    """
    most = min(within, MOST)
    for spoons in range(FEWEST, most + 1):
        for cups in range(FEWEST, most + 1):
            if depth != CHALLENGE:
                yield from _looked_at(spoons, cups, depth)
            elif spoons > cups:
                yield _difference("without a partner", spoons, cups)
    if depth == CHALLENGE:
        for spoons in range(2, within + 1):
            yield from (_difference("needed", spoons, cups) for cups in range(1, spoons))


def _looked_at(spoons: int, cups: int, depth: str) -> Iterator[Ask]:
    """Ask which row has more, and at core also whether there is one for each."""
    more = SPOONS if spoons > cups else CUPS
    fewer = CUPS if more == SPOONS else SPOONS
    if depth == WITH_SUPPORT:
        if spoons != cups:
            yield _which(spoons, cups, more, more, fewer)
        return
    if spoons == cups:
        for long in ROWS:
            yield _which(spoons, cups, long, THE_SAME, None)
    else:
        yield _which(spoons, cups, fewer, more, fewer)
    yield _enough(spoons, cups, fewer)


def _which(spoons: int, cups: int, long: str, right: str, other: str | None) -> Ask:
    """Ask which row has more, where the row *long* is drawn longer."""
    slips: dict[str, Answer | None] = {LONG_ROW: long, OTHER_WAY: other, SAME: THE_SAME}
    fact = f"{spoons}|{cups}|{ROWS[long]}"
    return Ask("which has more", fact, (), right, wrong_answers(slips, right), choices=CHOICES)


def _enough(spoons: int, cups: int, long: str) -> Ask:
    """Ask whether there is a cup for each spoon."""
    right = "yes" if cups >= spoons else "no"
    slips = {LONG_ROW: "yes" if long == CUPS else "no", YES: "yes", NO: "no"}
    fact = f"{spoons}|{cups}|{ROWS[long]}"
    wrong = wrong_answers(dict(slips), right)
    return Ask("enough", fact, (), right, wrong, choices=("yes", "no"))


def _difference(form: str, spoons: int, cups: int) -> Ask:
    """Ask how many spoons have no cup, drawn with the cups spread out, or only told."""
    right = spoons - cups
    slips = {LARGER: spoons, SMALLER: cups, FEW: right - 1, MANY: right + 1}
    told = (spoons, cups) if form == "needed" else ()
    wrong = wrong_answers(dict(slips), right)
    return Ask(form, f"{spoons}|{cups}|{ROWS[CUPS]}", told, right, wrong)


def _picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Draw the two rows, unless the numbers are told."""
    spoons, cups, long = ask.fact.split("|")
    return None if ask.form == "needed" else LooseRows(int(spoons), int(cups), long)


MATCHING = Kind(
    name="matching",
    title="Matching one to one",
    practises="Matching one to one to see which has more and how many more",
    ranges=(5, 10),
    example="is there a cup for each spoon: yes or no? □",
    forms={
        "which has more": "Two rows not lined up: which has more?",
        "enough": "Is there one for each?",
        "without a partner": "How many have no partner?",
        "needed": "Two numbers are told: how many more are needed?",
    },
    mistakes={
        LONG_ROW: "Went by the longer row",
        OTHER_WAY: "Chose fewer for more, or more for fewer",
        SAME: "Said that they are the same",
        YES: "Said yes where there are not enough",
        NO: "Said no where there are enough",
        LARGER: "Said the larger number instead of how many more",
        SMALLER: "Said the smaller number instead of how many more",
        **sentences(FEW, MANY),
    },
    depths={
        "with support": "The longer row has more",
        "core": "The longer row has fewer, or as many; is there one for each?",
        "challenge": "How many have no partner, and how many more are needed",
    },
    fetch=("spoons and cups in two rows", "a cloth for each plate", "socks and shoes in two rows"),
    say="Put one with one. Is any left over? Which has more? How do you know?",
    right="Each has one partner of the other row; what is left over shows which has more.",
    seconds=50,
    asks=_asks,
    picture=_picture,
)

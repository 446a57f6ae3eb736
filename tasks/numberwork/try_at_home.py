"""What right looks like, kind by kind: a good try and a common slip, drawn, and how to help.

The slips are those the kind itself tells apart; how to help is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tasks.numberwork.pictures import (
    Counters,
    FiveFrame,
    House,
    HundredSquare,
    LooseRows,
    MovedRow,
    NumberCards,
    NumberLine,
    NumeralTrace,
    PatternRow,
    Picture,
    Plates,
    ScatteredDots,
    ShapeCut,
    TenFrame,
    Things,
    TwoHands,
    TwoLots,
    TwoRows,
    hops,
)
from tasks.numberwork.prompt import Answer


@dataclass(frozen=True, slots=True)
class Try:
    """One try: what it looks like, the answer it gives, and in words what one sees."""

    picture: Picture
    answer: Answer
    words: str


@dataclass(frozen=True, slots=True)
class Tries:
    """A good try and a slip at one question (*fact*, see Ask), and how to help.

    mistake: what the kind calls the slip. help: how to help without telling the answer.
    """

    fact: str
    good: Try
    mistake: str
    slip: Try
    help: str


_COUNT = "Start the count and stop before the gap. Wait. Let your child say the next number."
_SHARE = "Do not move the things. Ask: is it the same here and there? Then wait."
_ON = "Put a hand over the first lot. Say how many are under it, and count on from there."
_PARTS = "Cover some of the things with a cloth. Ask how many are under it, then look."


def _counted(fact: str, hop: tuple[int, int], wrong: int, mistake: str, why: str) -> Tries:
    """Return a count from one number to another, drawn in hops of one, and where it went wrong."""
    here, there = hop
    low, high = max(0, min(here, there, wrong) - 1), max(here, there, wrong) + 1
    drawn = NumberLine(low, high, marked=(here,), jumps=hops(here, there))
    missed = NumberLine(low, high, marked=(here,), jumps=hops(here, wrong))
    far = abs(there - here)
    said = f"{far} {'hop' if far == 1 else 'hops'}, from {here} to {there}."
    return Tries(fact, Try(drawn, there, said), mistake, Try(missed, wrong, why), _COUNT)


_ROW = PatternRow(("spoon", "fork", "cup", "sock", "key"), 5)
_MISSED, _OTHER_WAY, _ONES = "missed one out", "counted the other way", "counted in ones"
_ON_MISSED = "One number was left out on the way."
_BACK_TO_ON = "That is on, not back."

TRIES: Mapping[str, Tries] = MappingProxyType(
    {
        "counting-on-in-ones": _counted("5", (5, 6), 7, _MISSED, _ON_MISSED),
        "counting-on-in-twos": _counted("4", (4, 6), 5, _ONES, "That is one on. Twos take two."),
        "counting-on-in-fives": _counted("10", (10, 15), 20, _MISSED, _ON_MISSED),
        "counting-on-in-tens": _counted("30", (30, 40), 50, _MISSED, _ON_MISSED),
        "counting-back-in-ones": _counted("5", (5, 4), 6, _OTHER_WAY, _BACK_TO_ON),
        "counting-back-in-twos": _counted("6", (6, 4), 8, _OTHER_WAY, _BACK_TO_ON),
        "counting-back-in-fives": _counted("10", (10, 5), 15, _OTHER_WAY, _BACK_TO_ON),
        "counting-back-in-tens": _counted("30", (30, 20), 40, _OTHER_WAY, _BACK_TO_ON),
        "counting-amounts": Tries(
            "rows:6",
            Try(Things("spoon", 6), 6, "One touch, one number. The last number is how many: 6."),
            "one too many",
            Try(Things("spoon", 6), 7, "One spoon was touched two times. The count came to 7."),
            "Let your child move each thing to one side as it is counted.",
        ),
        "count-out": Tries(
            "5",
            Try(Plates((5,), loose=2), 5, "Five, and then a stop. 2 are left in the heap."),
            "put out all of them",
            Try(Plates((7,)), 7, "All 7 went on the plate. The count did not stop at 5."),
            "Say the number first. Count aloud as each thing goes down. Stop together.",
        ),
        "counting-sounds": Tries(
            "windows:6",
            Try(House(6), 6, "Said one number for each window, row by row: 6."),
            "one too many",
            Try(House(6), 7, "Said 7. One window got two numbers."),
            "Make the sounds slowly. Wait for the number before you make the next one.",
        ),
        "still-the-same": Tries(
            "spread out:5",
            Try(MovedRow(5), "the same", "Only moved. None was put in, none was taken away."),
            "went by how long the row is",
            Try(MovedRow(5), "more", "The row is longer now, so it looked like more."),
            "Push them back together. Ask again: was one put in, or taken away?",
        ),
        "estimate-and-count": Tries(
            "about:8",
            Try(ScatteredDots(8, 1), 8, "Said 8 after a quick look. 7 or 9 is near, and good too."),
            "guessed half as many",
            Try(ScatteredDots(8, 1), 4, "Said 4. There are about twice as many."),
            "Show five of them apart. Ask: is it more than that? Then count to see.",
        ),
        "missing-number": Tries(
            "5:1",
            Try(NumberCards((5, 6, 7, 8)), 7, "7 fits: 5, 6, 7, 8."),
            "carried on from the end",
            Try(NumberCards((5, 6, 9, 8)), 9, "9 comes after 8. It does not fit in the gap."),
            "Say the row aloud with your child. Stop at the gap and wait.",
        ),
        "number-names": Tries(
            "read:14",
            Try(NumberCards((14,)), 14, "14 is one ten and four. The 1 says one ten."),
            "mixed up teen and ty",
            Try(NumberCards((40,)), 40, "Said forty. That is 40: four tens."),
            "Lay out ten spoons and four more. Ask: is this one ten, or four tens?",
        ),
        "hundred-square": Tries(
            "11",
            Try(HundredSquare((11,), first=1, last=20), 11, "Under 1 and after 10: it is 11."),
            "one too many",
            Try(HundredSquare((12,), first=1, last=20), 12, "12 is one square too far."),
            "Ask which numbers are next to it. Then ask what is above it.",
        ),
        "number-formation": Tries(
            "5",
            Try(NumeralTrace(5), 5, "Start at the big dot and follow the arrows."),
            "mixed up 2 and 5",
            Try(NumeralTrace(2), 2, "This is 2. A child can mix up 2 and 5."),
            "Draw it large in the air, or in flour on a tray. Say the way as you go.",
        ),
        "one-more": Tries(
            "5",
            Try(TenFrame(6), 6, "5 and one more. No need to count them all."),
            "went two instead of one",
            Try(TenFrame(7), 7, "Two more were put in. Only one was asked for."),
            "Put one more down and wait. Ask: do you need to count them all?",
        ),
        "one-less": Tries(
            "6",
            Try(TenFrame(5), 5, "6, then one goes out. No need to count them all."),
            "did the opposite",
            Try(TenFrame(7), 7, "One was put in. One less takes one out."),
            "Take one away and wait. Ask: do you need to count them all?",
        ),
        "number-of-the-day": Tries(
            "6:4",
            Try(TwoLots(4, 2), 2, "4 and 2 make 6. There are more ways: 5 and 1, 3 and 3."),
            "one too few",
            Try(TwoLots(4, 1), 1, "4 and 1 make 5. One more is needed."),
            "Ask for one more way. Let your child move the things, not you.",
        ),
        "subitising": Tries(
            "frame:3",
            Try(FiveFrame(3), 3, "Three, seen at once. No finger, no count."),
            "one too many",
            Try(FiveFrame(4), 4, "Said four. A guess that is near is a good start."),
            "Show it for a moment, then hide it. Ask what your child saw.",
        ),
        "number-bonds": Tries(
            "4,6,10",
            Try(
                NumberLine(0, 10, jumps=hops(4, 10)),
                6,
                "From 4 it takes 6 hops to get to 10.",
            ),
            "counted the start number",
            Try(
                NumberLine(0, 10, marked=tuple(range(4, 11))),
                7,
                "Said 7. The 4 was counted as well.",
            ),
            _PARTS,
        ),
        "adding": Tries(
            "5,3",
            Try(NumberLine(0, 10, jumps=hops(5, 8)), 8, "5, then 6, 7, 8."),
            "counted the start number",
            Try(NumberLine(0, 10, marked=(5, 6, 7)), 7, "5, 6, 7. The 5 was counted again."),
            _ON,
        ),
        "taking-away": Tries(
            "6,2",
            Try(Counters(6, crossed=2), 4, "6, and 2 go away. 4 are left."),
            "counted the start number",
            Try(NumberLine(0, 10, marked=(6, 5)), 5, "6, 5. The 6 was counted as the first one."),
            "Let your child take them away by hand. Then ask how many are left.",
        ),
        "missing-part": Tries(
            "3,5,8",
            Try(TwoLots(3, 5), 5, "3 and 5 make 8. So 5 were missing."),
            "said the whole",
            Try(TwoLots(3, 8), 8, "Said 8. That is all of them, not the part we look for."),
            _PARTS,
        ),
        "finger-doubles": Tries(
            "4",
            Try(TwoHands(4, 4), 8, "4 here and 4 there. That makes 8."),
            "said one hand only",
            Try(TwoHands(4, 0), 4, "Said 4. The other hand is missing."),
            "Hold your hand against your child’s hand. Say: the same again.",
        ),
        "doubling": Tries(
            "3",
            Try(TwoRows(3, 3), 6, "3 and the same again make 6."),
            "added two",
            Try(TwoRows(3, 2), 5, "3 and 2 make 5. Two were put on, not three."),
            "Make one side. Ask your child to make the other side just the same.",
        ),
        "halving": Tries(
            "8",
            Try(Plates((4, 4)), 4, "4 here and 4 there. Half of 8 is 4."),
            "one too many",
            Try(Plates((5, 3)), 5, "5 here and 3 there. The two sides are not the same."),
            _SHARE,
        ),
        "halving-number-sentence": Tries(
            "8",
            Try(Plates((4, 4)), 4, "8 ÷ 2 = 4. Two plates, and 4 on each."),
            "said the number after the sign",
            Try(Plates((2, 2), loose=4), 2, "Said 2, the number by the sign. 4 are still left."),
            _SHARE,
        ),
        "sharing-equally": Tries(
            "6,2",
            Try(Plates((3, 3)), 3, "One here, one there, till all are gone. Each has 3."),
            "gave one each",
            Try(Plates((1, 1), loose=4), 1, "One each, and then a stop. 4 are still left."),
            _SHARE,
        ),
        "odd-or-even": Tries(
            "6",
            Try(TwoRows(3, 3), "even", "6 makes pairs. Not one is left over: even."),
            "mixed up odd and even",
            Try(TwoRows(3, 3), "odd", "Good pairs, but the wrong word: said odd."),
            "Put the things in pairs. Ask: has each one a friend?",
        ),
        "can-it-be-halved": Tries(
            "3,4,1",
            Try(Plates((2, 2)), 4, "4 can be shared: 2 here and 2 there."),
            "always the first",
            Try(Plates((1, 1), loose=1), 3, "3 cannot: 1 here, 1 there, and 1 is left over."),
            "Share them one at a time and wait. Let your child see if one is left.",
        ),
        "matching": Tries(
            "5|5|spoon",
            Try(
                LooseRows(5, 5, "spoon", matched=True),
                "the same",
                "A line from each. None is left.",
            ),
            "went by the longer row",
            Try(
                LooseRows(5, 5, "spoon"),
                "spoons",
                "The spoons reach further, so it looked like more.",
            ),
            "Give each spoon one cup. Then ask if a spoon or a cup is left.",
        ),
        "comparing": Tries(
            "5,3",
            Try(TwoRows(5, 3), 5, "Lined up in pairs, 5 goes on for longer."),
            "mixed up more and fewer",
            Try(TwoRows(5, 3), 3, "Pointed to 3. That is the one with fewer."),
            "Line the things up in pairs. Ask which row goes on for longer.",
        ),
        "comparing-signs": Tries(
            "3,7",
            Try(TwoRows(3, 7), "<", "3 < 7. The wide side is by 7."),
            "turned the sign round",
            Try(TwoRows(3, 7), ">", "3 > 7. The wide side is by the small number."),
            "Ask which side has more. Then look for the wide side of the sign.",
        ),
        "ordering": Tries(
            "3,5,2,6",
            Try(NumberCards((2, 3, 5, 6)), (2, 3, 5, 6), "Each card is more than the last."),
            "swapped the middle two",
            Try(NumberCards((2, 5, 3, 6)), (2, 5, 3, 6), "5 and 3 have changed places."),
            "Find the smallest card first. Ask what comes next, and wait.",
        ),
        "ordinals": Tries(
            "spoon+fork+cup+sock+key:2",
            Try(_ROW, "fork", "First the spoon, second the fork. Begin at the left."),
            "counted from the other end",
            Try(_ROW, "sock", "The sock is second too, but from the right."),
            "Put a finger on the end where the row begins. Say first, second, third as you go.",
        ),
        "halves-of-shapes": Tries(
            "circle:level|circle:left upright",
            Try(ShapeCut("circle", "level"), "A", "Both pieces are the same size: a half."),
            "chose unequal pieces",
            Try(ShapeCut("circle", "left upright"), "B", "Cut in two, but one piece is bigger."),
            "Fold a paper shape along the cut. Ask if one piece covers the other.",
        ),
        "repeating-patterns": Tries(
            "spoon+fork:5:4",
            Try(PatternRow(("spoon", "fork"), 5), "spoon", "The same two things again and again."),
            "said the last one again",
            Try(
                PatternRow(("spoon", "fork", "spoon", "fork", "fork"), 5),
                "fork",
                "The last thing came again. The pattern has stopped.",
            ),
            "Say the row like a song. Point, and let your child say the next one.",
        ),
        "making-patterns": Tries(
            "spoon+fork:6:4:cup",
            Try(
                PatternRow(("spoon", "fork"), 6, changed=(3, "cup")),
                4,
                "The cup is wrong: place 4.",
            ),
            "one place too late",
            Try(PatternRow(("spoon", "fork"), 6, changed=(3, "cup")), 5, "Said 5, one too far."),
            "Say the row aloud from the left, and stop where it does not go on.",
        ),
        "story-problems": Tries(
            "add to, result unknown:3,2",
            Try(TwoLots(3, 2), 5, "Laid out as the story goes: 3, and 2 more."),
            "took away",
            Try(Counters(3, crossed=2), 1, "Took 2 away. The story puts 2 more in."),
            "Tell it again with real things. Ask: do we have more now, or fewer?",
        ),
        "number-stories": Tries(
            "plus:3,2",
            Try(TwoLots(3, 2), 5, "3 socks on the line, and 2 more come. 5 in the end."),
            "took away",
            Try(Counters(3, crossed=2), 1, "Told that 2 socks go. The sign + asks for 2 more."),
            "Begin it for your child: first there were 3. Then ask: what happens now?",
        ),
    }
)


def tries_of(kind: str) -> Tries | None:
    """Return what right looks like in *kind*; None for a kind that is no longer there."""
    return TRIES.get(kind)


def phrases_of_tries() -> Iterator[str]:
    """Yield every English phrase of the tries, as a family reads them."""
    for each in TRIES.values():
        yield from (each.good.words, each.slip.words, each.help)

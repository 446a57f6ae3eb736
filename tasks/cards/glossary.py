"""The number words that families meet: each with a picture and one plain sentence."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from tasks.numberwork.pictures import (
    Counters,
    DiceDots,
    HundredSquare,
    NumberCards,
    NumberLine,
    PartWhole,
    PatternRow,
    Picture,
    Plates,
    ShapeCut,
    Tally,
    TenFrame,
    TwoRows,
)


@dataclass(frozen=True, slots=True)
class NumberWord:
    """One word. key: its name within the page. sentence: what it means, with an example."""

    key: str
    word: str | Promise
    sentence: str | Promise
    picture: Picture


_ON = NumberLine(0, 10, jumps=((5, 6), (6, 7), (7, 8)))
_BACK = NumberLine(0, 10, jumps=((8, 7), (7, 6), (6, 5)))

GLOSSARY = (
    NumberWord("add", _("add"), _("Put together. 3 add 2 makes 5."), Plates((3, 2))),
    NumberWord(
        "altogether",
        _("altogether"),
        _("All of them, as one lot. 2 and 2 and 1 make 5 altogether."),
        Plates((2, 2, 1)),
    ),
    NumberWord(
        "bonds",
        _("number bonds"),
        _("Two numbers that make a number. 6 and 4 are a bond of 10."),
        PartWhole(10, (6, 4)),
    ),
    NumberWord("count-back", _("count back"), _("Start at 8 and go down: 7, 6, 5."), _BACK),
    NumberWord("count-on", _("count on"), _("Start at 5 and go on: 6, 7, 8."), _ON),
    NumberWord(
        "difference",
        _("difference"),
        _("How many more one has. The difference of 5 and 3 is 2."),
        TwoRows(5, 3),
    ),
    NumberWord(
        "digit",
        _("digit"),
        _("One of the signs from 0 to 9. We write 12 with a 1 and a 2."),
        NumberCards((1, 2)),
    ),
    NumberWord("double", _("double"), _("The same again. Double 3 is 6."), Plates((3, 3))),
    NumberWord(
        "equal", _("equal"), _("The same here and there. The sign for it is =."), TwoRows(4, 4)
    ),
    NumberWord("even", _("even"), _("It makes pairs and none is left: 2, 4, 6, 8."), TwoRows(4, 4)),
    NumberWord(
        "fewer", _("fewer"), _("Not as many things. 3 cups are fewer than 5."), TwoRows(3, 5)
    ),
    NumberWord(
        "half",
        _("half"),
        _("One of two parts that are the same size."),
        ShapeCut("circle", "upright"),
    ),
    NumberWord(
        "halve",
        _("halve"),
        _("Share into two parts that are the same. Halve 8: 4 and 4."),
        Plates((4, 4)),
    ),
    NumberWord(
        "hundred-square",
        _("hundred square"),
        _("The numbers from 1 to 100 in rows of ten."),
        HundredSquare(),
    ),
    NumberWord(
        "less",
        _("less"),
        _("A smaller number. 3 is less than 7."),
        NumberLine(0, 10, marked=(3, 7)),
    ),
    NumberWord("more", _("more"), _("A bigger lot. 5 is more than 3."), TwoRows(5, 3)),
    NumberWord(
        "number-line",
        _("number line"),
        _("Numbers in a row, each at its own place."),
        NumberLine(0, 10),
    ),
    NumberWord(
        "number-sentence",
        _("number sentence"),
        _("A sum in signs. 3 + 2 = 5 says: 3 and 2 make 5."),
        Plates((3, 2)),
    ),
    NumberWord("odd", _("odd"), _("It makes pairs, but one is left: 1, 3, 5, 7."), TwoRows(4, 3)),
    NumberWord(
        "one-less",
        _("one less"),
        _("The number before. One less than 5 is 4."),
        NumberLine(0, 10, jumps=((5, 4),)),
    ),
    NumberWord(
        "one-more",
        _("one more"),
        _("The next number. One more than 5 is 6."),
        NumberLine(0, 10, jumps=((5, 6),)),
    ),
    NumberWord(
        "order",
        _("in order"),
        _("From small to big, or from big to small."),
        NumberCards((2, 3, 5, 6)),
    ),
    NumberWord(
        "part-whole",
        _("part and whole"),
        _("The whole is all of it. The parts make the whole: 3 and 2 make 5."),
        PartWhole(5, (3, 2)),
    ),
    NumberWord(
        "pattern",
        _("pattern"),
        _("The same bit again and again."),
        PatternRow(("spoon", "fork"), 6),
    ),
    NumberWord(
        "see-at-once",
        _("see how many at once"),
        _("To know how many without counting. Schools call it subitise."),
        DiceDots(5),
    ),
    NumberWord(
        "share",
        _("share equally"),
        _("Give out one at a time, till each has the same."),
        Plates((2, 2, 2)),
    ),
    NumberWord(
        "take-away",
        _("take away"),
        _("Some go. 5 take away 2 leaves 3."),
        Counters(5, crossed=2),
    ),
    NumberWord("tally", _("tally"), _("One stroke for each. The fifth goes across."), Tally(7)),
    NumberWord(
        "teen-number",
        _("teen number"),
        _("A ten and some more. 13 is ten and three."),
        TenFrame(13),
    ),
    NumberWord(
        "ten-frame",
        _("ten frame"),
        _("Ten boxes in two rows. 7 are full, so 3 more make ten."),
        TenFrame(7),
    ),
)

# The words that come up in each kind of work, for the link from its part of a card.
WORDS_OF_KINDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "counting-on-in-ones": ("count-on", "number-line"),
        "counting-on-in-twos": ("count-on", "even"),
        "counting-on-in-fives": ("count-on", "number-line"),
        "counting-on-in-tens": ("count-on", "number-line"),
        "counting-back-in-ones": ("count-back", "number-line"),
        "counting-back-in-twos": ("count-back", "number-line"),
        "counting-back-in-fives": ("count-back", "number-line"),
        "counting-back-in-tens": ("count-back", "number-line"),
        "counting-amounts": ("altogether", "ten-frame"),
        "count-out": ("altogether",),
        "counting-sounds": ("altogether",),
        "estimate-and-count": ("altogether", "more"),
        "still-the-same": ("more", "fewer", "equal"),
        "missing-number": ("count-on", "order"),
        "number-names": ("teen-number", "digit"),
        "hundred-square": ("hundred-square", "one-more"),
        "number-formation": ("digit", "teen-number"),
        "one-more": ("one-more", "ten-frame"),
        "one-less": ("one-less", "ten-frame"),
        "number-of-the-day": ("part-whole", "tally"),
        "subitising": ("see-at-once", "ten-frame"),
        "number-bonds": ("bonds", "part-whole"),
        "adding": ("add", "altogether", "number-sentence"),
        "taking-away": ("take-away", "number-sentence"),
        "missing-part": ("part-whole", "bonds"),
        "doubling": ("double", "equal"),
        "finger-doubles": ("double", "equal"),
        "halving": ("halve", "half", "equal"),
        "halving-number-sentence": ("halve", "number-sentence", "equal"),
        "sharing-equally": ("share", "equal"),
        "odd-or-even": ("odd", "even"),
        "can-it-be-halved": ("halve", "even", "odd"),
        "matching": ("more", "fewer", "equal"),
        "comparing": ("more", "fewer", "difference"),
        "comparing-signs": ("more", "less", "equal"),
        "ordering": ("order", "less"),
        "ordinals": ("order",),
        "halves-of-shapes": ("half", "equal"),
        "repeating-patterns": ("pattern",),
        "making-patterns": ("pattern",),
        "story-problems": ("altogether", "take-away", "difference"),
        "number-stories": ("number-sentence", "add", "take-away"),
    }
)
BY_KEY: Mapping[str, NumberWord] = MappingProxyType({each.key: each for each in GLOSSARY})


def words_for(kind: str) -> list[NumberWord]:
    """Return the words that come up in *kind*; none for a kind that is no longer there."""
    return [BY_KEY[key] for key in WORDS_OF_KINDS.get(kind, ())]

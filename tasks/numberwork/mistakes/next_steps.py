"""What to do next about each mistake, for a teacher. Common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

ONE_BY_ONE = "Touch and move each thing as it is counted; count the same things once more."
COUNT_ON_STEPS = "Step along a number line: the start is stood on, not counted."
ALOUD = "Count aloud together in a steady beat, starting a little before the tricky place."
BACKWARDS = "Put number cards 0 to 10 in order, and walk along them both ways."
TEENS = "Say teen and ty numbers in pairs, and build each with tens and ones."
DIGITS = "Build the number with tens and ones before it is written; say the tens first."
ASK_AGAIN = "Have the question said back in the child's own words before anything is counted."
TWO_PLATES = "Share things on two plates, one at a time, until none is left."
PARTS = "Hold the whole in one hand, hide a part, and say whole, part and missing part."
ACT_IT = "Act it out with things: does it grow or get less?"
CHANGE_PLACES = "Change the order of the choices, and ask how the child can tell."
PAIRS = "Put things in pairs: is one left over?"
STOP = "Say the number first, count aloud as each thing goes down, and stop together at it."
MOVE_BACK = "Move the things back, and ask whether one was put in or taken away."
BY_FIVES = "Lay five apart to look at, and ask how many such lots there are."
ONE_WITH_ONE = "Lay one with one from the same end, and ask which ones are left over."
ONE_END = "Put a finger on the end where the row begins, and say first, second, third along it."
HANDS = "Hold hand against hand, and say how many on one and how many on both."
FOLD = "Fold one piece onto the other to check that they match."
TENS = "Compare the tens first, with bundles or towers of ten side by side."
TRACE = "Trace it large with a finger, saying where it starts and which way it turns."
SOUNDS = "Clap and stamp the pattern first, then lay it with one set of things and another."
CHANT = "Say the repeating part aloud, and stop where it begins again."

_ABOUT: Mapping[str, tuple[str, ...]] = {
    ONE_BY_ONE: (
        *("one too few", "one too many", "left out a row of five", "always said five"),
        *("counted the crossing stroke as no stroke", "said the larger part"),
        *("said the smaller part", "left a number out"),
    ),
    COUNT_ON_STEPS: ("counted the start number", "went one step too far"),
    ALOUD: (
        *("said the same number", "missed one out", "counted in ones", "carried on from the end"),
        *("stopped at the end of a ten", "jumped a ten", "left out the round number"),
        *("kept the same ten", "said twenty-ten", "went from a hundred to two hundred"),
    ),
    BACKWARDS: (
        *("counted the other way", "did the opposite", "said the number before"),
        *("said the number after", "went two instead of one", "went ten instead of one"),
        *("mixed up along and down", "said the number above", "said the number below"),
        *("left them as they were", "ordered the other way", "swapped the middle two"),
        "swapped the last two",
    ),
    TEENS: ("mixed up teen and ty",),
    DIGITS: (
        *("wrote the digits the wrong way round", "wrote the ten and the ones in full"),
        *("wrote the numbers side by side", "wrote the number twice"),
    ),
    ASK_AGAIN: (
        *("said the number itself", "said the first number", "said the second number"),
        *("said the number after the sign", "said how many altogether", "said how many plates"),
        *("said the larger number", "said the smaller number", "mixed up more and fewer"),
    ),
    TWO_PLATES: (
        *("doubled", "halved", "took one away", "took two away", "halved again", "doubled again"),
        *("added two", "added one", "took the plates away", "gave one each"),
    ),
    PARTS: ("said the whole", "said the part again", "took the numbers away"),
    ACT_IT: ("added", "took away", "added the numbers", "mixed up add and take away"),
    CHANGE_PLACES: (
        *("always the first", "always the last", "always yes", "always no", "always the same"),
        *("always <", "always >", "always =", "chose the largest", "chose the smallest"),
        *("turned the sign round", "looked at the first number only", "mixed up yes and no"),
    ),
    PAIRS: ("always even", "always odd", "mixed up odd and even"),
    STOP: ("put out all of them",),
    MOVE_BACK: ("went by how long the row is",),
    ONE_WITH_ONE: ("went by the longer row",),
    BY_FIVES: ("guessed half as many", "guessed twice as many"),
    ONE_END: ("counted from the other end", "one place too early", "one place too late"),
    HANDS: ("said one hand only", "put up one more"),
    FOLD: ("thinks only a straight cut makes halves", "chose unequal pieces"),
    TENS: ("looked at the first digit", "compared the last digits", "ordered by last digits"),
    TRACE: ("wrote it back to front", "mixed up 6 and 9", "mixed up 2 and 5"),
    SOUNDS: ("kept the old things", "counted the different things", "counted the whole row"),
    CHANT: (
        *("said the last one again", "began the pattern again", "only took turns"),
        "said the thing before that",
    ),
}
NEXT_STEPS: Mapping[str, str] = MappingProxyType(
    {mistake: step for step, mistakes in _ABOUT.items() for mistake in mistakes}
)

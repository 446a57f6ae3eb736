"""Halves of shapes: two pieces of the same size."""

from __future__ import annotations

from collections.abc import Iterator

from tasks.numberwork.chance import Chance
from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import (
    SAME_EACH_TIME_FIRST,
    SAME_EACH_TIME_LAST,
    sentences,
)
from tasks.numberwork.pictures import HALF_CUTS, NOT_HALF_CUTS, Picture, ShapeCut, ShapeCutChoice
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

YES, NO, OTHER = "always yes", "always no", "mixed up yes and no"
STRAIGHT, UNEQUAL = "thinks only a straight cut makes halves", "chose unequal pieces"
ALL_RANGES = (5, 10, 20, 50, 100, 200)  # shapes have no numbers, so any range will do
STRAIGHT_CUTS = ("upright", "level")
CHOICES_LISTED = 60


def _cuts(half: bool, level: str) -> list[ShapeCut]:
    """Return the cuts of a level that make halves, or that do not."""
    cuts = HALF_CUTS if half else NOT_HALF_CUTS
    return [ShapeCut(shape, cut) for shape, cut, its_level in cuts if its_level == level]


def _is_it_half(cut: ShapeCut) -> Ask:
    """Ask whether a shape is cut in half; the areas decide."""
    right, other = ("yes", "no") if cut.is_half else ("no", "yes")
    straight = "yes" if cut.cut in STRAIGHT_CUTS else "no"
    slips: dict[str, Answer | None] = {YES: "yes", NO: "no", OTHER: other, STRAIGHT: straight}
    fact = f"{cut.shape}:{cut.cut}"
    return Ask("is it half", fact, (), right, wrong_answers(slips, right), choices=("yes", "no"))


def _which(cuts: tuple[ShapeCut, ...]) -> Ask:
    """Ask which of several cut shapes is cut in half."""
    letters = tuple("ABC"[: len(cuts)])
    right = next(letter for letter, cut in zip(letters, cuts, strict=True) if cut.is_half)
    straight = [
        letter for letter, cut in zip(letters, cuts, strict=True) if cut.cut in STRAIGHT_CUTS
    ]
    others = [letter for letter in letters if letter != right]
    slips: dict[str, Answer | None] = {
        SAME_EACH_TIME_FIRST: letters[0],
        SAME_EACH_TIME_LAST: letters[-1],
        UNEQUAL: others[0] if len(others) == 1 else None,
        STRAIGHT: straight[0] if len(straight) == 1 else None,
    }
    fact = "|".join(f"{cut.shape}:{cut.cut}" for cut in cuts)
    return Ask("which one", fact, (), right, wrong_answers(slips, right), choices=letters)


def _choices(level: str, wrong_ones: int) -> Iterator[Ask]:
    """List choices of one half among *wrong_ones* others: a fixed draw from very many."""
    chance = Chance("halves-of-shapes", level, wrong_ones)
    halves, others = _cuts(True, level), _cuts(False, level)
    met: set[str] = set()
    for _ in range(20 * CHOICES_LISTED):
        half = chance.choice(halves)
        same = [cut for cut in others if cut.shape == half.shape] or others
        picked = chance.shuffled(same)[:1] + chance.shuffled(others)[: wrong_ones - 1]
        ask = _which(tuple(chance.shuffled([half, *picked])))
        if len(set(picked)) == wrong_ones and ask.fact not in met:
            met.add(ask.fact)
            yield ask
        if len(met) == CHOICES_LISTED:
            return


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List cut shapes to judge, and choices between them."""
    levels = {WITH_SUPPORT: ("core",), CORE: ("core",), CHALLENGE: ("challenge",)}[depth]
    for level in levels:
        for half in (True, False):
            yield from map(_is_it_half, _cuts(half, level))
        if depth != WITH_SUPPORT:
            yield from _choices(level, 1 if depth == CORE else 2)


def _picture(ask: Ask, depth: str, variant: int) -> Picture:
    """Draw the cut shape, or the labelled choice."""
    cuts = [ShapeCut(*one.split(":")) for one in ask.fact.split("|")]
    return cuts[0] if ask.form == "is it half" else ShapeCutChoice(tuple(cuts))


HALVES_OF_SHAPES = Kind(
    name="halves-of-shapes",
    title="Halves of shapes",
    practises="Seeing that halves are two pieces of the same size",
    ranges=ALL_RANGES,
    example="is this shape cut in half: yes or no? □",
    forms={
        "is it half": "One cut shape: is it cut in half?",
        "which one": "Two or three cut shapes: which one is cut in half?",
    },
    mistakes={
        YES: "Called any two pieces halves",
        NO: "Said that a half is not a half",
        OTHER: "Took halves for unequal pieces, and the other way round",
        STRAIGHT: "Took only cuts straight down or across for halves",
        UNEQUAL: "Chose the shape with unequal pieces",
        **sentences(SAME_EACH_TIME_FIRST, SAME_EACH_TIME_LAST),
    },
    depths={
        "with support": "One shape at a time; halves fold onto each other",
        "core": "Also which of two shapes is cut in half",
        "challenge": "Halves that do not fold onto each other; which of three",
    },
    fetch=("paper to fold edge to edge", "a tea towel to fold", "a slice of bread cut by an adult"),
    say="Are the two pieces the same size? How can you check?",
    right="The child says whether the pieces are the same size and can check by folding.",
    seconds=30,
    asks=_asks,
    picture=_picture,
)

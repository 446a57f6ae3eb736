"""Patterns to mend, to make with other things, and the part in them that repeats."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tasks.numberwork.kind import Ask, Kind, wrong_answers
from tasks.numberwork.kinds.mistakes import FEW, MANY, SAME_EACH_TIME_LAST, sentences
from tasks.numberwork.kinds.ordinals import EARLY, LATE, OTHER_END
from tasks.numberwork.kinds.patterns import AGAIN, START, SWITCHED, THINGS_USED
from tasks.numberwork.pictures import PatternRow
from tasks.numberwork.prompt import CHALLENGE, CORE, WITH_SUPPORT, Answer

KEPT = "kept the old things"
DIFFERENT, WHOLE = "counted the different things", "counted the whole row"
GAP = "□"
MEND = {WITH_SUPPORT: ("AB",), CORE: ("AB", "AAB", "ABB"), CHALLENGE: ("AAB", "ABB")}
COPY = {WITH_SUPPORT: ("AB",), CORE: ("AB", "AAB", "ABB"), CHALLENGE: ("ABC", "AABB")}
COUNT = ("AB", "AAB", "ABB", "ABC", "AABB", "ABAC")
SHORT, LONG = 6, 8  # things in a row; with an easy one to mend there are six


def _units(letters: str) -> Iterator[tuple[str, ...]]:
    """List the units of a pattern, each of things that are neighbours in the stock."""
    for start in range(len(THINGS_USED)):
        for step in (1, -1):
            stock = [THINGS_USED[(start + step * each) % len(THINGS_USED)] for each in range(3)]
            yield tuple(stock["ABC".index(letter)] for letter in letters)


def _row(unit: Sequence[str], length: int) -> list[str]:
    return [unit[place % len(unit)] for place in range(length)]


def _mends(row: Sequence[str], size: int) -> set[int]:
    """Return the places, from 0, at which one other thing makes *row* repeat after *size*."""
    clash = [
        {place, place + size} for place in range(len(row) - size) if row[place] != row[place + size]
    ]
    return set.intersection(*clash) if clash else set()


def _to_mend(letters: str, depth: str) -> Iterator[Ask]:
    """List rows with one thing wrong that can be mended in one place only.

    The thing that is wrong is of neither sort with support, and one of the pattern's own later.
    """
    length = SHORT if depth == WITH_SUPPORT else LONG
    for unit in _units(letters):
        strange = next(thing for thing in THINGS_USED if thing not in unit)
        for place in range(length):
            row = _row(unit, length)
            other = next(thing for thing in unit if thing != row[place])
            row[place] = strange if depth == WITH_SUPPORT else other
            mended = [_mends(row, size) for size in range(2, len(unit) + 1)]
            if mended[-1] != {place} or any(mended[:-1]):
                continue
            right = place + 1
            slips: dict[str, Answer | None] = {
                EARLY: right - 1 or None,
                LATE: right + 1 if right < length else None,
                OTHER_END: length - place,
                SAME_EACH_TIME_LAST: length,
            }
            fact = f"{'+'.join(unit)}:{length}:{right}:{row[place]}"
            yield Ask("mend", fact, (), right, wrong_answers(slips, right))


def _to_copy(letters: str) -> Iterator[Ask]:
    """List patterns to go on with in other things, once enough of them are laid to tell."""
    for unit in _units(letters):
        stock = [thing for thing in THINGS_USED if thing not in unit]
        instead = dict(zip(dict.fromkeys(unit), stock, strict=False))
        new = [instead[thing] for thing in unit]
        for place in range(2, len(unit) + 2):
            row, model = _row(new, place), _row(unit, place + 1)
            right = instead[model[place]]
            slips: dict[str, Answer | None] = {
                AGAIN: row[-1],
                START: new[0],
                SWITCHED: next((thing for thing in new if thing != row[-1]), None),
                KEPT: model[place],
            }
            choices = tuple(dict.fromkeys((*new, model[place])))
            wrong = wrong_answers(slips, right)
            fact = f"{'+'.join(unit)}:{place + 1}"
            yield Ask("copy", fact, (), right, wrong, choices=choices, things=(*row, GAP))


def _to_count(letters: str) -> Iterator[Ask]:
    """List patterns of which the part that repeats is to be found."""
    for unit in _units(letters):
        right = len(unit)
        length = LONG if right == 4 else SHORT
        slips: dict[str, Answer | None] = {
            DIFFERENT: len(set(unit)),
            WHOLE: length,
            FEW: right - 1,
            MANY: right + 1,
        }
        fact = f"{'+'.join(unit)}:{length}"
        yield Ask("part", fact, (), right, wrong_answers(slips, right))


def _asks(within: int, depth: str) -> Iterator[Ask]:
    """List rows to mend, to make with other things, and at last the part that repeats.

    Source for the order, copy before the part that repeats, and for AB made of whatever was asked
    for: Rittle-Johnson, Fyfe, McLean and McEldoon 2013, patterning in four-year-olds (from memory).
    """
    for letters in MEND[depth]:
        yield from _to_mend(letters, depth)
    for letters in COPY[depth]:
        yield from _to_copy(letters)
    if depth == CHALLENGE:
        for letters in COUNT:
            yield from _to_count(letters)


def _picture(ask: Ask, depth: str, variant: int) -> PatternRow:
    """Draw the row to mend or to count, or two units of the pattern to copy."""
    unit, *rest = ask.fact.split(":")
    things = tuple(unit.split("+"))
    if ask.form == "copy":
        return PatternRow(things, 2 * len(things))
    changed = (int(rest[1]) - 1, rest[2]) if ask.form == "mend" else None
    return PatternRow(things, int(rest[0]), changed=changed)


MAKING_PATTERNS = Kind(
    name="making-patterns",
    title="Making and mending patterns",
    practises="Finding what repeats, mending it, and making it with other things",
    ranges=(10,),
    example="which place is wrong, counted from the left? □",
    forms={
        "mend": "Which one in the row is wrong?",
        "copy": "The same pattern made with other things",
        "part": "How many things are in the part that repeats?",
    },
    mistakes={
        EARLY: "Pointed to the one before",
        LATE: "Pointed to the one after",
        OTHER_END: "Counted from the other end",
        SAME_EACH_TIME_LAST: "Pointed to the last one",
        AGAIN: "Said the thing just before again",
        START: "Began the pattern again",
        SWITCHED: "Took turns with two things instead of following the pattern",
        KEPT: "Went on with the things of the old pattern",
        DIFFERENT: "Counted the different things instead of the part that repeats",
        WHOLE: "Counted the whole row",
        **sentences(FEW, MANY),
    },
    depths={
        "with support": "Two things taking turns; what is wrong is of another sort",
        "core": "Also spoon, spoon, cup; what is wrong is one of the two",
        "challenge": "How long is the part that repeats; patterns of three and four",
    },
    fetch=("spoons and cups in a row", "socks and shoes in a row", "claps and stamps"),
    say="What comes again and again? Which one is wrong? How do you know? Make one like it.",
    right="The child mends the row, shows the part that repeats, and makes it with other things.",
    seconds=60,
    asks=_asks,
    picture=_picture,
)

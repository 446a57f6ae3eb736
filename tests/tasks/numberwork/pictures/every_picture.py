"""Hypothesis strategies for every kind of picture."""

from hypothesis import strategies as st

from tasks.numberwork.pictures import (
    HALF_CUTS,
    NOT_HALF_CUTS,
    THINGS,
    Array,
    CompareSets,
    Counters,
    DiceDots,
    Fingers,
    FiveAndDots,
    FiveFrame,
    House,
    HundredSquare,
    LooseRows,
    MovedRow,
    NumberCards,
    NumberLine,
    NumeralTrace,
    PartWhole,
    PatternRow,
    Picture,
    Plates,
    ScatteredDots,
    ShapeCut,
    ShapeCutChoice,
    Tally,
    TenFrame,
    Things,
    TwoHands,
    TwoLots,
    TwoRows,
)

seeds = st.integers(0, 2**63)
things = st.sampled_from(sorted(THINGS))


def some(numbers: range, at_most: int = 6) -> st.SearchStrategy[tuple[int, ...]]:
    """Draw a tuple of different numbers of a range."""
    return st.lists(st.sampled_from(numbers), unique=True, max_size=at_most).map(tuple)


@st.composite
def number_lines(draw: st.DrawFn) -> NumberLine:
    step, steps = draw(st.sampled_from([1, 2, 5, 10])), draw(st.integers(1, 20))
    start = draw(st.integers(0, max(0, 200 - step * steps)))
    end = min(200, start + step * steps)
    end -= (end - start) % step
    on_line = range(start, end + 1, step)
    jumps = draw(st.lists(st.tuples(*[st.sampled_from(on_line)] * 2), max_size=4))
    real = tuple((a, b) for a, b in jumps if a != b)
    return NumberLine(start, end, draw(some(on_line)), real, draw(some(on_line)), step)


@st.composite
def hundred_squares(draw: st.DrawFn) -> HundredSquare:
    first = draw(st.integers(1, 200))
    last = draw(st.integers(first, 200))
    numbers = range(first, last + 1)
    return HundredSquare(draw(some(numbers)), draw(some(numbers)), first, last)


@st.composite
def part_wholes(draw: st.DrawFn) -> PartWhole:
    parts: list[int | None] = draw(st.lists(st.integers(0, 25), min_size=2, max_size=4))
    whole: int | None = sum(filter(None, parts))
    missing = draw(st.sampled_from(["nothing", "whole", "part"]))
    if missing == "part":
        parts[draw(st.integers(0, len(parts) - 1))] = None
    return PartWhole(None if missing == "whole" else whole, tuple(parts))


@st.composite
def patterns(draw: st.DrawFn) -> PatternRow:
    unit = draw(st.lists(things, min_size=2, max_size=5).filter(lambda u: len(set(u)) > 1))
    length = draw(st.integers(len(unit), 12))
    hidden = draw(some(range(length)))
    changed = draw(st.none() | st.tuples(st.integers(0, length - 1), things))
    return PatternRow(tuple(unit), length, hidden, changed)


def _with_crossed(number: int) -> st.SearchStrategy[tuple[int, int]]:
    return st.tuples(st.just(number), st.integers(0, number))


shape_cuts = st.sampled_from([ShapeCut(shape, cut) for shape, cut, _ in HALF_CUTS + NOT_HALF_CUTS])

PICTURES: dict[type[Picture], st.SearchStrategy[Picture]] = {
    Array: st.builds(Array, st.integers(1, 10), st.integers(1, 10)),
    CompareSets: st.builds(CompareSets, st.integers(0, 10), st.integers(0, 10), seeds),
    Counters: st.integers(0, 30).flatmap(_with_crossed).map(lambda pair: Counters(*pair)),
    DiceDots: st.builds(DiceDots, st.integers(1, 6)),
    Fingers: st.builds(Fingers, st.integers(0, 10)),
    FiveAndDots: st.builds(FiveAndDots, st.integers(1, 10)),
    FiveFrame: st.builds(FiveFrame, st.integers(0, 5)),
    House: st.builds(House, st.integers(1, 20)),
    HundredSquare: hundred_squares(),
    LooseRows: st.builds(
        LooseRows,
        st.integers(2, 8),
        st.integers(2, 8),
        st.sampled_from(["spoon", "cup"]),
        st.booleans(),
    ),
    MovedRow: st.builds(MovedRow, st.integers(2, 10), st.booleans()),
    NumberCards: st.lists(st.none() | st.integers(0, 200), min_size=1, max_size=10)
    .map(tuple)
    .map(NumberCards),
    NumberLine: number_lines(),
    NumeralTrace: st.builds(NumeralTrace, st.integers(0, 20)),
    PartWhole: part_wholes(),
    PatternRow: patterns(),
    Plates: st.builds(
        Plates,
        st.lists(st.integers(0, 12), min_size=1, max_size=6).map(tuple),
        st.integers(0, 30),
    ),
    ScatteredDots: st.builds(ScatteredDots, st.integers(1, 20), seeds),
    ShapeCut: shape_cuts,
    ShapeCutChoice: st.lists(shape_cuts, min_size=2, max_size=6).map(tuple).map(ShapeCutChoice),
    Tally: st.builds(Tally, st.integers(0, 50)),
    TenFrame: st.builds(TenFrame, st.integers(0, 20)),
    Things: st.tuples(things, st.integers(0, 20).flatmap(_with_crossed)).map(
        lambda drawn: Things(drawn[0], *drawn[1])
    ),
    TwoHands: st.builds(TwoHands, st.integers(0, 5), st.integers(0, 5)),
    TwoLots: st.builds(TwoLots, st.integers(0, 20), st.integers(0, 20)),
    TwoRows: st.builds(TwoRows, st.integers(0, 20), st.integers(0, 20)),
}

pictures = st.one_of(*PICTURES.values())

"""Pictures of number held against published standards and the facts of the trade."""

import unicodedata
from math import sqrt
from statistics import NormalDist

import pytest

from tasks.numberwork.pictures import (
    CompareSets,
    Counters,
    DiceDots,
    FiveAndDots,
    HundredSquare,
    ScatteredDots,
    Tally,
    TenFrame,
)
from tests.tasks.numberwork.pictures.svg_reading import SVG, dots, read

# Source: The Unicode Standard, Miscellaneous Symbols, U+2680 to U+2685 (names from the character
# database; the places of the pips, read off common glyphs of these code points, from memory).
PIPS = {
    "⚀": ("...", ".o.", "..."),
    "⚁": ("..o", "...", "o.."),
    "⚂": ("..o", ".o.", "o.."),
    "⚃": ("o.o", "...", "o.o"),
    "⚄": ("o.o", ".o.", "o.o"),
    "⚅": ("o.o", "o.o", "o.o"),
}


@pytest.mark.parametrize("face", PIPS)
def test_dots_lie_where_they_lie_on_a_die(face):
    number = int(unicodedata.name(face).removeprefix("DIE FACE-"))
    picture = DiceDots(number)
    middle = picture.draw().width / 2
    drawn = {(_third(y - middle), _third(x - middle)) for x, y, _ in dots(picture)}
    rows = enumerate(PIPS[face])
    assert drawn == {(r, c) for r, row in rows for c, pip in enumerate(row) if pip == "o"}


def _third(offset: float) -> int:
    """Return 0, 1 or 2 for before, at or after the middle."""
    return 1 if abs(offset) < 1 else 0 if offset < 0 else 2


def test_five_is_one_in_each_corner_and_one_in_the_middle():
    """Source: common practice, no source."""
    picture = FiveAndDots(5)
    xs, ys = [x for x, _, _ in dots(picture)], [y for _, y, _ in dots(picture)]
    corners = {(x, y) for x in (min(xs), max(xs)) for y in (min(ys), max(ys))}
    rest = {(x, y) for x, y, _ in dots(picture)} - corners
    assert rest == {((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)}


@pytest.mark.parametrize(("number", "groups"), [(7, (5, 2)), (13, (5, 5, 3)), (5, (5,)), (0, ())])
def test_a_tally_is_grouped_in_fives(number, groups):
    """Source: common practice, no source: 7 is one group and two, 13 two groups and three."""
    assert Tally(number).groups == groups
    strokes = list(read(Tally(number)).iter(f"{SVG}line"))
    across = [s for s in strokes if s.get("x1") != s.get("x2")]
    assert (len(strokes), len(across)) == (number, groups.count(5))


def test_teens_are_one_full_frame_and_some_more_and_twenty_is_two_full_frames():
    """Source: common practice, no source; K.NBT.A.1 for 11 to 19 as ten ones and further ones."""
    for number in range(11, 21):
        drawn = dots(TenFrame(number))
        middle = TenFrame(number).draw().width / 2
        left = sum(x < middle for x, _, _ in drawn)
        assert (left, len(drawn) - left) == (10, number - 10)


def test_counting_in_fives_fills_two_columns_of_the_hundred_square():
    """Source: common practice, no source: twenty numbers, those ending in 5 and in 0."""
    fives = tuple(range(5, 101, 5))
    marked = [r for r in read(HundredSquare(fives)).iter(f"{SVG}rect") if r.get("fill-opacity")]
    assert len(marked) == 20
    assert len({rect.get("x") for rect in marked}) == 2


def test_one_more_than_a_ten_starts_a_new_row():
    """Source: common practice, no source: 10 to 11, 20 to 21 … is a new row."""
    rows = [float(rect.get("y")) for rect in read(HundredSquare()).iter(f"{SVG}rect")]
    for number in range(1, 100):
        assert (rows[number] > rows[number - 1]) == (number % 10 == 0)


def test_scattered_sets_are_for_counting_up_to_ten_and_rows_up_to_twenty():
    """Source: Common Core K.CC.B.5: "as many as 20 things arranged in a line, a rectangular array,
    or a circle, or as many as 10 things in a scattered configuration"."""
    assert [ScatteredDots(n, 1).countable for n in (1, 10, 11, 20)] == [True, True, False, False]
    assert len(dots(Counters(20))) == 20


def chance_right(fewer: int, more: int, weber: float) -> float:
    """Return the chance that the larger of two sets is named by looking.

    Source: the model after Pica et al. 2004 and Halberda and Feigenson 2008.
    """
    return NormalDist().cdf((more - fewer) / (weber * sqrt(fewer**2 + more**2)))


def test_the_looking_model_gives_its_published_figures():
    """Source: Halberda and Feigenson 2008, w .383 at four and .229 at five (from memory)."""
    assert round(chance_right(1, 2, 0.383), 3) == 0.879
    assert round(chance_right(4, 5, 0.229), 3) == 0.752


def test_a_card_to_judge_by_looking_is_clear_to_nearly_nine_in_ten_four_year_olds():
    """Source: the same model; the rule of two to one for cards judged by looking."""
    for left in range(11):
        for right in range(11):
            fewer, more = sorted((left, right))
            card = CompareSets(left, right)
            if card.by_looking_ok:
                assert chance_right(fewer, more, 0.383) >= 0.879 - 5e-4
            elif more > 0:
                assert more < 2 * fewer
                assert chance_right(fewer, more, 0.383) < 0.879

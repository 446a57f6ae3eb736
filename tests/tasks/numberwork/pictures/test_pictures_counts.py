"""Exactly the number asked for is drawn, nothing touches, and the text says the same."""

import re
from itertools import combinations, pairwise
from math import hypot

from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork.pictures import (
    Array,
    CompareSets,
    Counters,
    DiceDots,
    Fingers,
    FiveAndDots,
    FiveFrame,
    House,
    LooseRows,
    MovedRow,
    Plates,
    ScatteredDots,
    Tally,
    TenFrame,
    Things,
    TwoHands,
    TwoRows,
)
from tests.tasks.numberwork.pictures.every_picture import PICTURES, seeds
from tests.tasks.numberwork.pictures.svg_reading import SVG, dots, path_points, read


def assert_apart(circles: list[tuple[float, float, float]], gap: float = 2) -> None:
    """Check that no two circles come nearer each other than *gap* units."""
    for (x1, y1, r1), (x2, y2, r2) in combinations(circles, 2):
        assert hypot(x1 - x2, y1 - y2) >= r1 + r2 + gap


def numbers_in(alt: str) -> list[int]:
    return [int(word) for word in re.findall(r"\d+", alt)]


@given(st.integers(1, 20), seeds)
@settings(max_examples=200, deadline=None)
def test_scattered_dots_are_exactly_as_many_as_asked_and_never_touch(number, seed):
    picture = ScatteredDots(number, seed)
    drawn = dots(picture)
    assert len(drawn) == number
    assert_apart(drawn)
    assert numbers_in(picture.alt) == [number]


def test_the_same_seed_scatters_the_same_dots_and_another_seed_others():
    assert ScatteredDots(6, 3).svg() == ScatteredDots(6, 3).svg()
    assert len({ScatteredDots(6, seed).svg() for seed in range(20)}) == 20


@given(st.integers(0, 10), st.integers(0, 10), seeds)
@settings(max_examples=100, deadline=None)
def test_sets_to_compare_hold_what_the_text_says_in_dots_of_one_size(left, right, seed):
    picture = CompareSets(left, right, seed)
    drawn = dots(picture)
    middle = picture.draw().width / 2
    assert sum(x < middle for x, _, _ in drawn) == left
    assert sum(x > middle for x, _, _ in drawn) == right
    assert len({radius for _, _, radius in drawn}) <= 1
    assert_apart(drawn)
    assert numbers_in(picture.alt) == [left, right]


@given(st.integers(0, 20))
def test_a_frame_fills_each_row_of_five_before_the_next(filled):
    picture = TenFrame(filled)
    drawn = dots(picture)
    assert len(drawn) == filled
    assert len(list(read(picture).iter(f"{SVG}rect"))) == (20 if filled > 10 else 10)
    assert filled in numbers_in(picture.alt)
    heights = [y for _, y, _ in drawn]
    assert heights == sorted(heights[:10]) + sorted(heights[10:])
    assert all(heights.count(y) % 5 == 0 or y == heights[-1] for y in heights)


def test_a_five_frame_has_five_squares_and_the_counters_asked_for():
    for filled in range(6):
        assert len(dots(FiveFrame(filled))) == filled
        assert len(list(read(FiveFrame(filled)).iter(f"{SVG}rect"))) == 5


def test_dice_and_five_and_some_more_show_their_number_without_touching():
    for picture, number in [(DiceDots(n), n) for n in range(1, 7)] + [
        (FiveAndDots(n), n) for n in range(1, 11)
    ]:
        assert len(dots(picture)) == number
        assert_apart(dots(picture))
        assert numbers_in(picture.alt)[0] == number


def test_six_to_ten_stand_as_a_five_and_the_rest_clearly_apart():
    for number in range(6, 11):
        drawn = sorted(dots(FiveAndDots(number)))
        five, rest = drawn[:5], drawn[5:]
        across_five = max(x for x, _, _ in five) - min(x for x, _, _ in five)
        assert dots(FiveAndDots(5)) == dots(FiveAndDots(number))[:5]
        assert min(x for x, _, _ in rest) - max(x for x, _, _ in five) > across_five / 2


@given(st.integers(0, 50))
def test_a_tally_has_one_stroke_for_each_one_counted(number):
    picture = Tally(number)
    strokes = list(read(picture).iter(f"{SVG}line"))
    upright = [s for s in strokes if s.get("x1") == s.get("x2")]
    assert len(strokes) == number
    assert len(strokes) - len(upright) == number // 5
    assert numbers_in(picture.alt) == [number]


def test_the_fifth_stroke_of_a_tally_goes_across_all_four():
    strokes = list(read(Tally(5)).iter(f"{SVG}line"))
    uprights, across = strokes[:4], strokes[4]
    ends = sorted([float(across.get("x1")), float(across.get("x2"))])
    assert all(ends[0] < float(stroke.get("x1")) < ends[1] for stroke in uprights)


def test_raised_fingers_reach_above_every_folded_one_and_five_come_on_one_hand_first():
    for number in range(11):
        left, right = Fingers(number).hands
        assert left + right == number
        assert right == 0 or left == 5
        assert _finger_tips_up(Fingers(number)) == number
        assert numbers_in(Fingers(number).alt)[0] == number


def test_each_of_two_hands_has_as_many_fingers_up_as_asked():
    for left in range(6):
        for right in range(6):
            picture = TwoHands(left, right)
            assert _finger_tips_up(picture) == left + right
            assert numbers_in(picture.alt) == [left + right, left, right]


def _finger_tips_up(picture: Fingers | TwoHands) -> int:
    """Count round tips that stand clear of the fist, above it or beside it."""
    fists = [_tips(path) for path in read(Fingers(0)).iter(f"{SVG}path")]
    hands = [_tips(path) for path in read(picture).iter(f"{SVG}path")]
    return sum(len(hand - fist) for hand, fist in zip(hands, fists, strict=True))


def _tips(path) -> set[tuple[str, ...]]:
    """List the arcs that turn the way the outline goes: the tips seen from outside."""
    outline = path.get("d").split("M")[1]
    return {tuple(arc.split("L")[0].split()) for arc in outline.split("A")[1:]}


@given(PICTURES[Counters])
def test_counters_are_as_many_as_asked_and_so_are_the_crosses(picture):
    crosses = list(read(picture).iter(f"{SVG}path"))
    drawn = dots(picture)
    assert len(drawn) == picture.number
    assert_apart(drawn)
    assert len(crosses) == picture.crossed
    crossed = drawn[picture.number - picture.crossed :]
    for cross, (x, y, _) in zip(crosses, crossed, strict=True):
        corners = list(path_points(cross.get("d")))
        assert abs(sum(px for px, _ in corners) / 4 - x) < 0.01
        assert abs(sum(py for _, py in corners) / 4 - y) < 0.01
    assert picture.number in numbers_in(picture.alt)


def test_counters_stand_in_fives_up_to_ten_and_in_tens_above():
    assert {n: Counters(n).per_row for n in (4, 10, 11, 30)} == {4: 5, 10: 5, 11: 10, 30: 10}


@given(st.integers(2, 10), st.booleans())
def test_a_moved_row_has_the_same_counters_and_only_another_length(number, spread):
    drawn = dots(MovedRow(number, spread))
    rows = [
        sorted(x for x, y, _ in drawn if y == level) for level in sorted({y for _, y, _ in drawn})
    ]
    assert [len(row) for row in rows] == [number, number]
    before, after = (row[-1] - row[0] for row in rows)
    assert (after > before * 1.2) if spread else (before > after * 1.2)
    assert_apart(drawn)
    assert numbers_in(MovedRow(number, spread).alt) == [number]


@given(st.integers(2, 8), st.integers(2, 8), st.sampled_from(["spoon", "cup"]))
def test_rows_to_match_are_not_lined_up_and_the_longer_is_the_one_that_was_asked(
    upper, lower, longer
):
    picture = LooseRows(upper, lower, longer)
    above, below = picture.places
    assert (len(above), len(below)) == (upper, lower)
    reach = [row[-1] - row[0] for row in picture.places]
    more_than = 20 if max(upper, lower) < 8 else 15
    assert (reach[0] - reach[1]) * (1 if longer == "spoon" else -1) > more_than
    assert all(b - a >= 30 for row in picture.places for a, b in pairwise(row))
    assert above[0] != below[0]
    assert numbers_in(picture.alt) == [upper, lower]


@given(st.integers(2, 8), st.integers(2, 8))
def test_a_line_joins_each_to_one_of_the_other_row_until_one_row_is_out(upper, lower):
    plain, joined = LooseRows(upper, lower), LooseRows(upper, lower, matched=True)
    lines = [len(list(read(picture).iter(f"{SVG}line"))) for picture in (plain, joined)]
    assert lines == [0, min(upper, lower)]


@given(st.integers(1, 20))
def test_a_house_has_as_many_windows_of_one_size_as_asked_and_one_door(number):
    boxes = list(read(House(number)).iter(f"{SVG}rect"))
    sizes = [(each.get("width"), each.get("height")) for each in boxes]
    assert len(boxes) == 1 + 1 + number
    assert len(set(sizes)) == 3
    assert max(map(sizes.count, sizes)) == number
    places = {(each.get("x"), each.get("y")) for each in boxes}
    assert len(places) == len(boxes)
    assert numbers_in(House(number).alt) == [number]


@given(st.integers(1, 10), st.integers(1, 10))
def test_an_array_has_equal_rows_and_even_gaps(rows, columns):
    drawn = dots(Array(rows, columns))
    assert len(drawn) == rows * columns
    assert len({y for _, y, _ in drawn}) == rows
    assert len({x for x, _, _ in drawn}) == columns
    assert_apart(drawn)
    assert numbers_in(Array(rows, columns).alt) == [rows, columns]


@given(PICTURES[Plates])
@settings(deadline=None)
def test_every_plate_holds_its_share_wholly_inside_its_rim(picture):
    plates = dots(picture, hollow=True)[::2]
    counters = dots(picture, hollow=False)
    assert len(plates) == len(picture.groups)
    assert len(counters) == sum(picture.groups) + picture.loose
    assert_apart(counters)
    assert_apart(plates)
    held = [
        sum(hypot(x - px, y - py) + r < pr - 6 for x, y, r in counters) for px, py, pr in plates
    ]
    assert held == list(picture.groups)
    for number in (*picture.groups, picture.loose):
        assert number == 0 or number in numbers_in(picture.alt)


@given(st.integers(0, 20), st.integers(0, 20))
def test_partners_in_two_rows_stand_exactly_under_each_other(upper, lower):
    picture = TwoRows(upper, lower)
    above, below = dots(picture, hollow=False), dots(picture, hollow=True)
    assert (len(above), len(below)) == (upper, lower)
    assert all(a[0] == b[0] for a, b in zip(above, below, strict=False))
    assert numbers_in(picture.alt) == [upper, lower]


@given(PICTURES[Things])
@settings(deadline=None)
def test_things_say_their_number_and_how_many_are_crossed_out(picture):
    said = numbers_in(picture.alt)
    assert said == [picture.number] + ([picture.crossed] if picture.crossed else [])
    paths = len(list(read(picture).iter(f"{SVG}path")))
    alone = len(list(read(Things(picture.thing, 1)).iter(f"{SVG}path")))
    assert paths == picture.number * alone + picture.crossed

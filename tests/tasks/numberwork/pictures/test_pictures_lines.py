"""Number lines, squares, part–whole pictures, cards and rows: what is shown, what left out."""

import re
from itertools import pairwise

from hypothesis import given, settings

from tasks.numberwork.pictures import (
    HundredSquare,
    NumberCards,
    NumberLine,
    PartWhole,
    PatternRow,
    hops,
)
from tasks.numberwork.pictures.numerals import numeral
from tests.tasks.numberwork.pictures.every_picture import PICTURES
from tests.tasks.numberwork.pictures.svg_reading import SVG, dots, path_points, read


def words_with(alt: str, number: int) -> list[str]:
    return re.findall(rf"\b{number}\b", alt)


def _form(data: str) -> str:
    """Return the kinds of step of path data, which stay the same wherever and however large."""
    return re.sub(r"[^A-Z]", "", data)


NUMERAL_FORMS = {
    _form(re.search(r'd="([^"]+)"', numeral(number, 0, 0, 10))[1]) for number in range(201)
}


def drawn_numerals(picture) -> int:
    """Count the paths that have the form of a numeral."""
    paths = read(picture).iter(f"{SVG}path")
    return sum(_form(path.get("d")) in NUMERAL_FORMS for path in paths)


@given(PICTURES[NumberLine])
@settings(max_examples=60, deadline=None)
def test_a_line_never_tells_the_number_it_hides(picture):
    boxes = list(read(picture).iter(f"{SVG}rect"))
    ticks = [line for line in read(picture).iter(f"{SVG}line") if line.get("x1") == line.get("x2")]
    assert len(boxes) == len(picture.hidden)
    assert len(ticks) == len(picture.numbers)
    assert len(dots(picture)) == len(picture.marked)
    unsaid = set(picture.hidden) - {picture.step, len(picture.hidden)}
    assert not any(words_with(picture.alt, number) for number in unsaid)


def test_a_line_runs_from_left_to_right_in_even_steps():
    ticks = [
        float(line.get("x1"))
        for line in read(NumberLine(7, 17)).iter(f"{SVG}line")
        if line.get("x1") == line.get("x2")
    ]
    gaps = {round(b - a, 1) for a, b in pairwise(ticks)}
    assert ticks == sorted(ticks)
    assert len(gaps) == 1


def test_a_jump_lands_over_its_number_and_points_the_way_it_goes():
    for start, end in ((4, 7), (13, 9)):
        line = NumberLine(0, 20, jumps=((start, end),))
        ticks = [
            float(t.get("x1")) for t in read(line).iter(f"{SVG}line") if t.get("x1") == t.get("x2")
        ]
        arc = next(p for p in read(line).iter(f"{SVG}path") if "Q" in p.get("d"))
        points = list(path_points(arc.get("d")))
        assert abs(points[0][0] - ticks[start]) < 0.1
        assert abs(points[-1][0] - ticks[end]) < 0.1
        assert min(y for _, y in points) < points[0][1] - 5


def test_where_numerals_would_touch_the_tens_and_fives_stay_and_what_is_marked_comes_first():
    assert NumberLine(0, 10).labelled == tuple(range(11))
    assert NumberLine(0, 20).labelled == (0, 5, 10, 15, 20)
    assert 11 in NumberLine(0, 20, marked=(11,)).labelled
    assert {10, 11} - set(NumberLine(0, 20, marked=(11,)).labelled) == {10}
    assert NumberLine(39, 51, marked=(40,), jumps=hops(40, 50)).labelled == (40, 45, 50)
    assert 13 in NumberLine(0, 20, hidden=(13,), marked=(12,)).labelled


def test_the_number_below_is_ten_more_on_the_hundred_square():
    square = HundredSquare()
    corners = [(float(r.get("x")), float(r.get("y"))) for r in read(square).iter(f"{SVG}rect")]
    assert len(corners) == 100
    for number in range(1, 91):
        (x, y), (below_x, below_y) = corners[number - 1], corners[number + 9]
        assert x == below_x
        assert below_y > y
    assert corners[0] == min(corners)
    assert corners[99] == max(corners)


@given(PICTURES[HundredSquare])
@settings(max_examples=60, deadline=None)
def test_a_hundred_square_leaves_out_the_hidden_numbers_and_no_other(picture):
    squares = picture.last - picture.first + 1
    assert len(list(read(picture).iter(f"{SVG}rect"))) == squares + len(picture.marked)
    assert drawn_numerals(picture) == squares - len(picture.hidden)
    shown = {*picture.marked, picture.first, picture.last} - set(picture.hidden)
    marked_empty = len(set(picture.marked) & set(picture.hidden))
    counts = {squares, len(picture.hidden), marked_empty}
    assert set(map(int, re.findall(r"\d+", picture.alt))) <= shown | counts


def test_a_square_may_go_on_past_a_hundred():
    picture = HundredSquare(marked=(105, 110), first=91, last=120)
    assert picture.alt == "Numbers 91 to 120 in rows of ten, 105 and 110 shaded."


def test_an_empty_box_stands_for_the_part_that_is_asked():
    picture = PartWhole(8, (5, None))
    assert len(list(read(picture).iter(f"{SVG}rect"))) == 3
    assert drawn_numerals(picture) == 2
    assert picture.alt == "Part–whole picture. Whole: 8. Parts: 5 and an empty box."


@given(PICTURES[NumberCards])
@settings(max_examples=40, deadline=None)
def test_cards_show_their_numbers_and_one_empty_card_for_each_number_to_find(picture):
    known = [number for number in picture.numbers if number is not None]
    assert len(list(read(picture).iter(f"{SVG}rect"))) == len(picture.numbers)
    assert drawn_numerals(picture) == len(known)
    assert [int(word) for word in re.findall(r"\d+", picture.alt)] == known


@given(PICTURES[PatternRow])
@settings(max_examples=60, deadline=None)
def test_a_pattern_repeats_its_unit_but_where_it_was_changed_and_names_nothing_hidden(picture):
    row = [picture.unit[place % len(picture.unit)] for place in range(picture.length)]
    if picture.changed:
        row[picture.changed[0]] = picture.changed[1]
    assert list(picture.items) == row
    named = re.findall(r"[a-z]+", picture.alt.replace("A row: ", "").replace(" and ", " "))
    shown = [t for place, t in enumerate(picture.items) if place not in picture.hidden]
    assert [word for word in named if word not in ("an", "empty")] == [
        *_in_order(picture, shown),
    ]


def _in_order(picture: PatternRow, shown: list[str]) -> list[str]:
    """Read the row as the text does: a thing by its name, a hidden one as a box."""
    left = iter(shown)
    return ["box" if n in picture.hidden else next(left) for n in range(picture.length)]

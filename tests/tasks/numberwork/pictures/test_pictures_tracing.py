"""Numerals to trace: their strokes, where they start and which way they go."""

from itertools import pairwise

import pytest

from tasks.numberwork.pictures import NumeralTrace
from tasks.numberwork.pictures.numerals import STROKES, numeral_width, placed_digits
from tasks.numberwork.pictures.tracing import along
from tests.tasks.numberwork.pictures.svg_reading import dots, path_points


def turning(points: list[tuple[float, float]]) -> float:
    """Return twice the area a path sweeps: below zero for anticlockwise on the page."""
    follower = [*points[1:], points[0]]
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(points, follower, strict=True))


def meets(first: list[tuple[float, float]], second: list[tuple[float, float]]) -> bool:
    """Tell whether two straight-sided strokes cross or touch."""

    def side(a, b, c) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return any(
        side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0
        for a, b in pairwise(first)
        for c, d in pairwise(second)
    )


def test_the_four_is_open_at_the_top_and_its_second_stroke_crosses_the_first():
    first, second = (along(stroke) for stroke in STROKES["4"])
    slope, foot = first[:2], first[1:]
    assert not meets(slope, second)
    assert meets(foot, second)


@pytest.mark.parametrize("digit", "069")
def test_round_digits_go_anticlockwise_from_the_top(digit):
    points = along(STROKES[digit][0])
    assert points[0][1] < 25
    assert turning(points[: len(points) * 3 // 4]) < 0
    assert points[3][0] < points[0][0]


@pytest.mark.parametrize("digit", "0123456789")
def test_every_first_stroke_starts_at_the_top_and_every_digit_reaches_the_line(digit):
    assert along(STROKES[digit][0])[0][1] <= 26
    lowest = max(y for stroke in STROKES[digit] for _, y in path_points(stroke))
    assert abs(lowest - 100) < 1


def test_only_four_and_five_take_the_pen_off_the_paper():
    two = {digit for digit, strokes in STROKES.items() if len(strokes) == 2}
    assert two == {"4", "5"}
    assert all(len(strokes) in (1, 2) for strokes in STROKES.values())


def test_every_stroke_has_its_start_dot_and_a_second_stroke_an_open_one():
    for number in range(21):
        picture = NumeralTrace(number)
        assert len(dots(picture, hollow=False)) == len(str(number))
        assert len(dots(picture, hollow=True)) == sum(picture.strokes) - len(str(number))


def test_the_text_tells_the_adult_how_the_numeral_is_written():
    assert NumeralTrace(4).alt == (
        "The numeral 4 to trace. 4: start at the top, go down and along; "
        "then a second stroke straight down."
    )


@pytest.mark.parametrize("number", [0, 1, 11, 14, 100, 117, 200])
def test_a_numeral_keeps_within_the_width_that_is_said(number):
    digits = placed_digits(number, 0, 0, 100)
    xs = [x for strokes in digits for stroke in strokes for x, _ in path_points(stroke)]
    assert max(xs) - min(xs) <= numeral_width(number, 100)
    assert max(map(abs, xs)) <= numeral_width(number, 100) / 2

"""One size for all: counters, numerals and sheets, whatever the number; read from the SVG."""

import re
from dataclasses import replace
from itertools import pairwise

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork import make_prompts
from tasks.numberwork.pictures import (
    Array,
    CompareSets,
    Counters,
    DiceDots,
    FiveAndDots,
    FiveFrame,
    HundredSquare,
    MovedRow,
    NumberCards,
    NumberLine,
    PartWhole,
    Picture,
    Plates,
    ScatteredDots,
    TenFrame,
    TwoLots,
    TwoRows,
)
from tasks.numberwork.pictures.ink import COUNTER, EM, NUMERAL, WIDEST
from tasks.numberwork.pictures.numerals import STROKES
from tests.portal.test_look import LETTERS
from tests.tasks.numberwork.pictures.every_picture import PICTURES, pictures
from tests.tasks.numberwork.pictures.svg_reading import SVG, dots, path_points, read, sheet_size
from tests.tasks.numberwork.pictures.test_pictures_lines import NUMERAL_FORMS, _form

OF_COUNTERS = (
    *(Array, CompareSets, Counters, DiceDots, FiveAndDots, FiveFrame, MovedRow, Plates),
    *(ScatteredDots, TenFrame, TwoLots, TwoRows),
)
OF_NUMERALS = (HundredSquare, NumberCards, NumberLine, PartWhole)
CARD_AT_360 = 292  # pixels beside the margins of a card, measured in Chromium
LEAST_NUMERAL = 24  # pixels


@given(pictures)
@settings(max_examples=300, deadline=None)
def test_a_unit_has_one_size_and_every_picture_goes_into_a_card_on_a_phone(picture: Picture):
    root = read(picture)
    width, height = sheet_size(root)
    assert float(root.get("width").removesuffix("em")) == pytest.approx(width / EM, abs=0.01)
    assert float(root.get("height").removesuffix("em")) == pytest.approx(height / EM, abs=0.01)
    assert width <= WIDEST <= CARD_AT_360


@pytest.mark.parametrize("kind", OF_COUNTERS, ids=lambda kind: kind.__name__)
def test_a_counter_is_as_large_whatever_the_picture_and_the_number(kind: type[Picture]):
    @given(PICTURES[kind])
    @settings(max_examples=40, deadline=None)
    def check(picture: Picture) -> None:
        plates = dots(picture, hollow=True) if kind is Plates else []
        assert {r for _, _, r in dots(picture)} - {r for _, _, r in plates} <= {COUNTER}

    check()


@pytest.mark.parametrize("kind", OF_NUMERALS, ids=lambda kind: kind.__name__)
def test_a_numeral_is_tall_enough_for_a_child_on_a_phone(kind: type[Picture]):
    @given(PICTURES[kind])
    @settings(max_examples=25, deadline=None)
    def check(picture: Picture) -> None:
        if isinstance(picture, NumberLine):
            picture = replace(picture, jumps=())  # an arrow head has the form of a 1
        for path in read(picture).iter(f"{SVG}path"):
            if _form(path.get("d")) in NUMERAL_FORMS:
                ys = [y for _, y in path_points(path.get("d"))]
                assert max(ys) - min(ys) >= LEAST_NUMERAL - 0.3

    check()
    assert NUMERAL >= LEAST_NUMERAL


STEPS = {"ones": 1, "twos": 2, "fives": 5, "tens": 10}


@pytest.mark.parametrize("way", ["on", "back"])
@pytest.mark.parametrize("name", STEPS)
def test_a_step_is_as_many_hops_on_a_line_that_shows_the_neighbours(way: str, name: str):
    step = STEPS[name]
    for prompt in make_prompts(f"counting-{way}-in-{name}", 100, 4, 1, depth="with support"):
        line, run = prompt.picture, (*prompt.numbers, prompt.answer)
        arcs = [path for path in read(line).iter(f"{SVG}path") if "Q" in path.get("d")]
        assert len(arcs) == step * (len(run) - 1 if step <= 2 else 1)
        assert line.step == 1
        assert line.start == max(0, min(line.marked + run[-1:]) - 1)
        assert line.end == max(line.marked + run[-1:]) + 1


@given(st.integers(1, 20))
def test_what_is_to_be_shared_lies_in_a_heap_without_gaps_or_halves(number: int):
    heap = dots(Plates((0, 0), loose=number), hollow=False)
    rows = {y: sorted(x for x, other, _ in heap if other == y) for _, y, _ in heap}
    gaps = {round(b - a, 2) for row in rows.values() for a, b in pairwise(row)}
    assert len(heap) == number
    assert len(gaps) <= 1
    assert [2 * len(row) for row in rows.values()] != [number, number]


@pytest.mark.parametrize(
    "kind", ["halving", "halving-number-sentence", "sharing-equally", "can-it-be-halved"]
)
def test_whatever_is_shared_is_shared_on_plates(kind: str):
    for depth in ("with support", "core"):
        for prompt in make_prompts(kind, 20, 8, 2, depth=depth):
            assert prompt.picture is None or isinstance(prompt.picture, Plates | NumberCards)


@given(st.integers(0, 20), st.integers(0, 20))
def test_two_lots_that_are_joined_stand_apart_and_in_line_with_nothing(first: int, second: int):
    picture = TwoLots(first, second)
    solid, rings = dots(picture, hollow=False), dots(picture, hollow=True)
    assert (len(solid), len(rings)) == (first, second)
    if first and second:
        assert max(x for x, _, _ in solid) + 2 * COUNTER < min(x for x, _, _ in rings)
    assert [int(word) for word in re.findall(r"\d+", picture.alt)] == [first, second]


def test_only_what_is_compared_stands_in_aligned_rows():
    joined = [
        *make_prompts("adding", 10, 6, 1, depth="with support"),
        *make_prompts("story-problems", 10, 12, 1, depth="with support"),
    ]
    compared = make_prompts("comparing", 10, 12, 1, depth="with support")
    assert not any(isinstance(prompt.picture, TwoRows) for prompt in joined)
    assert any(isinstance(prompt.picture, TwoLots) for prompt in joined)
    assert any(isinstance(prompt.picture, TwoRows) for prompt in compared)


@pytest.mark.parametrize("style", [400, 700])
def test_the_one_of_the_letters_is_the_one_of_the_pictures_with_a_flag_and_no_foot(style: int):
    (stroke,) = STROKES["1"]
    flag, top, foot = list(path_points(stroke))
    assert flag[0] < top[0] == foot[0]
    assert top[1] < flag[1] < foot[1] / 2

    font = TTFont(LETTERS / f"letters-{style}.ttf")
    corners = list(font["glyf"][font.getBestCmap()[ord("1")]].coordinates)
    highest, stem = max(y for _, y in corners), max(x for x, _ in corners)
    feet = [x for x, y in corners if y == 0]
    assert len(feet) == 2
    assert max(feet) == stem
    assert max(feet) - min(feet) < highest / 4
    assert min(corners)[1] > highest / 2

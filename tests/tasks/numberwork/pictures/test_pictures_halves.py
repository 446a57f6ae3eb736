"""Halves of shapes: equal is exact, unequal is plain to see, and the text gives neither away."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork.pictures import (
    CUTS,
    HALF_CUTS,
    NOT_HALF_CUTS,
    OUTLINES,
    ShapeCut,
    ShapeCutChoice,
)
from tasks.numberwork.pictures.halves import hatch
from tasks.numberwork.pictures.splitting import area
from tests.tasks.numberwork.pictures.every_picture import PICTURES
from tests.tasks.numberwork.pictures.svg_reading import SVG, read


@pytest.mark.parametrize(("shape", "cut", "level"), HALF_CUTS)
def test_a_half_is_exactly_half(shape, cut, level):
    first, second = ShapeCut(shape, cut).areas
    assert abs(first - second) <= 1e-9 * (first + second)
    assert ShapeCut(shape, cut).is_half
    assert level in ("core", "challenge")


@pytest.mark.parametrize(("shape", "cut", "level"), NOT_HALF_CUTS)
def test_a_piece_that_is_no_half_is_plainly_bigger_or_smaller(shape, cut, level):
    smaller, bigger = sorted(ShapeCut(shape, cut).areas)
    assert 1.5 <= bigger / smaller <= 5
    assert not ShapeCut(shape, cut).is_half
    assert level in ("core", "challenge")


def test_no_cut_is_offered_twice_and_both_lists_have_both_levels():
    pairs = [(shape, cut) for shape, cut, _ in HALF_CUTS + NOT_HALF_CUTS]
    assert len(set(pairs)) == len(pairs)
    for cuts in (HALF_CUTS, NOT_HALF_CUTS):
        assert {level for _, _, level in cuts} == {"core", "challenge"}


def test_every_shape_and_every_cut_is_used():
    offered = HALF_CUTS + NOT_HALF_CUTS
    assert {shape for shape, _, _ in offered} == set(OUTLINES)
    assert {cut for _, cut, _ in offered} == set(CUTS)


def test_each_common_shape_comes_both_halved_and_not_halved():
    for shape in ("square", "rectangle", "circle", "oval", "triangle", "kite"):
        assert any(shape == s for s, _, _ in HALF_CUTS)
        assert any(shape == s for s, _, _ in NOT_HALF_CUTS)


@given(PICTURES[ShapeCut])
def test_the_text_describes_the_cut_and_does_not_give_the_answer_away(picture):
    assert picture.shape in picture.alt
    assert not any(word in picture.alt.lower() for word in ("equal", "halve", "not half"))
    assert "half" not in picture.alt.replace("half way up", "")


@given(PICTURES[ShapeCutChoice])
@settings(max_examples=30, deadline=None)
def test_a_choice_labels_its_shapes_in_order_and_knows_which_are_halves(picture):
    written = [text.text for text in read(picture).iter(f"{SVG}text")]
    assert written == list(picture.labels) == list("ABCDEF"[: len(picture.cuts)])
    right = [letter for letter, cut in zip(written, picture.cuts, strict=True) if cut.is_half]
    assert list(picture.halves) == right


@given(st.sampled_from(sorted(OUTLINES)))
def test_hatching_covers_the_shape_in_proportion_to_its_area(shape):
    outline = OUTLINES[shape]
    spacing = 0.5
    length = sum(
        ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5 for (ax, ay), (bx, by) in hatch(outline, spacing)
    )
    covered = length * spacing / 2**0.5  # strokes slant, so their distance is less than spacing
    assert abs(covered - area(outline)) < 0.02 * area(outline)

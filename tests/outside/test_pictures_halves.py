"""Halves of shapes, measured and put together again by a geometry library.

Source: shapely, the judge of areas and overlaps; areas meant to look unequal differ by 3:2 or
more (Odic, Libertus, Feigenson and Halberda 2013: younger children's area acuity is coarse).
"""

from math import pi

import pytest
from shapely import Polygon, affinity, symmetric_difference

from tasks.numberwork.pictures import HALF_CUTS, NOT_HALF_CUTS, OUTLINES, ShapeCut

NEAR = 1e-9
BOTH = HALF_CUTS + NOT_HALF_CUTS


def pieces(shape: str, cut: str) -> tuple[Polygon, Polygon]:
    first, second = ShapeCut(shape, cut).pieces
    return Polygon(first), Polygon(second)


def folds_onto_itself(shape: str, cut: str) -> bool:
    """Tell whether one piece, mirrored along the straight line of the cut, covers the other."""
    first, second = pieces(shape, cut)
    ends = ShapeCut(shape, cut).pieces[0][:2]
    (ax, ay), (bx, by) = ends
    dx, dy = bx - ax, by - ay
    size = dx * dx + dy * dy
    cos2, sin2 = (dx * dx - dy * dy) / size, 2 * dx * dy / size
    shift_x, shift_y = ax - cos2 * ax - sin2 * ay, ay - sin2 * ax + cos2 * ay
    mirrored = affinity.affine_transform(first, [cos2, sin2, sin2, -cos2, shift_x, shift_y])
    return symmetric_difference(mirrored, second).area < 1e-6 * first.area


def is_straight(shape: str, cut: str) -> bool:
    """Tell whether the cut is one straight line."""
    first, second = ShapeCut(shape, cut).pieces
    return len({*first} & {*second}) == 2


@pytest.mark.parametrize("shape", OUTLINES)
def test_every_outline_is_one_simple_shape(shape):
    assert Polygon(OUTLINES[shape]).is_valid
    assert Polygon(OUTLINES[shape]).area > 1000


@pytest.mark.parametrize(("shape", "cut", "level"), BOTH)
def test_the_two_pieces_make_the_whole_without_overlap(shape, cut, level):
    whole = Polygon(OUTLINES[shape])
    first, second = pieces(shape, cut)
    assert first.is_valid
    assert second.is_valid
    assert first.intersection(second).area <= NEAR * whole.area
    assert symmetric_difference(first.union(second), whole).area <= NEAR * whole.area
    assert ShapeCut(shape, cut).areas == pytest.approx((first.area, second.area), rel=NEAR)


@pytest.mark.parametrize(("shape", "cut", "level"), HALF_CUTS)
def test_halves_are_equal_in_area(shape, cut, level):
    first, second = pieces(shape, cut)
    assert first.area == pytest.approx(second.area, rel=NEAR)


@pytest.mark.parametrize(("shape", "cut", "level"), NOT_HALF_CUTS)
def test_pieces_that_are_no_halves_differ_by_three_to_two_or_more(shape, cut, level):
    smaller, bigger = sorted(piece.area for piece in pieces(shape, cut))
    assert bigger / smaller >= 1.5


@pytest.mark.parametrize(("shape", "cut", "level"), [row for row in HALF_CUTS if row[2] == "core"])
def test_a_core_half_folds_edge_to_edge(shape, cut, level):
    """Source: common practice, no source: folding so that edges meet shows a half."""
    assert is_straight(shape, cut)
    assert folds_onto_itself(shape, cut)


def test_a_challenge_has_halves_that_do_not_fold_onto_each_other():
    unfolded = [
        (shape, cut)
        for shape, cut, level in HALF_CUTS
        if level == "challenge" and not (is_straight(shape, cut) and folds_onto_itself(shape, cut))
    ]
    assert len(unfolded) >= 15


@pytest.mark.parametrize(("shape", "width", "height"), [("circle", 88, 88), ("oval", 96, 60)])
def test_round_shapes_are_round(shape, width, height):
    """Source: the area of an ellipse, pi times half the width times half the height."""
    assert Polygon(OUTLINES[shape]).area == pytest.approx(pi * width * height / 4, rel=2e-4)

"""What holds for every picture, whatever it shows."""

import doctest
import importlib
import json
import pkgutil

import pytest
from hypothesis import given, settings

import tasks.numberwork.pictures as package
from tasks.numberwork.pictures import Picture, picture_from_json, picture_to_json
from tasks.numberwork.pictures.roundtrip import KINDS
from tests.tasks.numberwork.pictures.every_picture import PICTURES, pictures
from tests.tasks.numberwork.pictures.svg_reading import SVG, extent, read, sheet_size

EVERY_KIND = pytest.mark.parametrize("kind", PICTURES, ids=lambda kind: kind.__name__)
MARGIN = 2  # units of paper left free round the ink, at the least
MAY_STAND = {
    *("viewBox", "role", "d", "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "rx"),
    *("width", "height", "fill", "fill-opacity", "stroke", "stroke-width", "stroke-opacity"),
    *("stroke-linecap", "stroke-linejoin", "stroke-dasharray"),
    *("font-family", "font-size", "text-anchor"),
}


def test_every_kind_of_picture_is_held_to_these_rules():
    assert set(PICTURES) == set(KINDS.values())


@EVERY_KIND
def test_a_picture_is_a_standalone_image_named_by_its_text_alternative(kind):
    @given(PICTURES[kind])
    @settings(max_examples=25, deadline=None)
    def check(picture: Picture) -> None:
        root = read(picture)
        assert root.tag == f"{SVG}svg"
        assert root.get("role") == "img"
        assert root[0].tag == f"{SVG}title"
        assert root[0].text == picture.alt
        assert picture.alt.endswith(".")

    check()


@EVERY_KIND
def test_no_ink_is_cut_off_at_the_edge_of_the_sheet(kind):
    @given(PICTURES[kind])
    @settings(max_examples=40, deadline=None)
    def check(picture: Picture) -> None:
        root = read(picture)
        width, height = sheet_size(root)
        if len(root) == 1:
            return  # nothing is drawn for no counters
        ink = extent(root)
        assert min(ink.left, ink.top) >= MARGIN, ink
        assert ink.right <= width - MARGIN, (ink, width)
        assert ink.bottom <= height - MARGIN, (ink, height)

    check()


@given(pictures)
@settings(max_examples=150, deadline=None)
def test_a_picture_passes_a_strict_content_policy_and_can_be_inlined_many_times(picture):
    attributes = {name for element in read(picture).iter() for name in element.attrib}
    elements = {element.tag.removeprefix(SVG) for element in read(picture).iter()}
    assert attributes <= MAY_STAND
    assert elements <= {"svg", "title", "path", "rect", "circle", "line", "text"}


@given(pictures)
@settings(max_examples=150, deadline=None)
def test_ink_follows_the_page_and_no_colour_carries_meaning(picture):
    for element in read(picture).iter():
        assert element.get("fill") in (None, "none", "currentColor")
        assert element.get("stroke") in (None, "none", "currentColor")


@EVERY_KIND
def test_a_picture_kept_as_json_comes_back_the_same(kind):
    @given(PICTURES[kind])
    @settings(max_examples=25, deadline=None)
    def check(picture: Picture) -> None:
        kept = json.dumps(picture_to_json(picture))
        back = picture_from_json(json.loads(kept))
        assert back == picture
        assert back.svg() == picture.svg()

    check()


@given(pictures)
@settings(max_examples=50, deadline=None)
def test_a_picture_can_be_told_in_another_language(picture):
    assert "<title>Un &amp; deux</title>" in picture.svg(title="Un & deux")
    assert picture.alt not in picture.svg(title="Un & deux")


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"picture": "Abacus", "rows": 2},
        {"picture": "TenFrame"},
        {"picture": "TenFrame", "filled": 3, "extra": 1},
        {"picture": "TenFrame", "filled": "3"},
        {"picture": "TenFrame", "filled": True},
        {"picture": "ShapeCutChoice", "cuts": [{"picture": "TenFrame", "filled": 3}] * 2},
        {"picture": ["TenFrame"], "filled": 3},
    ],
)
def test_json_that_is_no_picture_is_refused(data):
    with pytest.raises(ValueError, match=r"."):
        picture_from_json(data)


def test_the_examples_in_the_docstrings_are_true():
    tried = 0
    for module in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
        result = doctest.testmod(importlib.import_module(module.name))
        assert result.failed == 0, module.name
        tried += result.attempted
    assert tried >= 6

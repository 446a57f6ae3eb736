"""A scene has as many things to move as its prompt speaks of, each within the box."""

import subprocess
import sys
from collections.abc import Callable, Iterator
from math import hypot

import pytest
from defusedxml.ElementTree import fromstring
from hypothesis import given, settings

from tasks.lessons.scenes import HIGH, WIDE, Scene, make_scene
from tasks.numberwork import DEPTHS, EVERY_KIND, Prompt, make_prompts
from tests.house import ROOT
from tests.tasks.numberwork.pictures.every_picture import PICTURES, pictures
from tests.tasks.numberwork.pictures.svg_reading import SVG, read

STILL = {
    *("DiceDots", "Fingers", "FiveAndDots", "House", "HundredSquare", "NumeralTrace"),
    *("PartWhole", "PatternRow", "ShapeCut", "ShapeCutChoice", "Tally", "TwoHands"),
}


def first(prompt: Prompt) -> int:
    return prompt.numbers[0]


def answer(prompt: Prompt) -> int:
    return prompt.answer


def answer_or_number(prompt: Prompt) -> int:
    return prompt.numbers[0] if prompt.numbers else prompt.answer


def amount(prompt: Prompt) -> int:
    return prompt.answer - (prompt.form == "one more hidden")


def compared(prompt: Prompt) -> int:
    """Count both sides: of numbers, those; of sets, what their fact says."""
    return sum(prompt.numbers) or sum(int(each) for each in prompt.fact.split("|")[:2])


# How many counters or things a prompt of a kind speaks of, read off its numbers alone.
SPOKEN_OF: dict[str, Callable[[Prompt], int]] = {
    "counting-amounts": amount,
    "still-the-same": first,
    "estimate-and-count": lambda prompt: int(prompt.fact.split(":")[-1]),
    "number-formation": answer_or_number,
    "one-more": first,
    "one-less": first,
    "number-of-the-day": first,
    "number-of-the-day-shown": first,
    "subitising": answer,
    "adding": lambda prompt: sum(prompt.numbers),
    "taking-away": first,
    "doubling": lambda prompt: prompt.numbers[0] * (1 + (prompt.depth == "with support")),
    "halving": first,
    "halving-number-sentence": first,
    "sharing-equally": first,
    "odd-or-even": first,
    "can-it-be-halved": first,
    "matching": compared,
    "comparing": compared,
    "comparing-signs": lambda prompt: sum(prompt.numbers),
    "story-problems": lambda prompt: (
        first(prompt) if "take" in prompt.form else sum(prompt.numbers)
    ),
    "number-stories": lambda prompt: (
        first(prompt) if prompt.form == "taken away" else sum(prompt.numbers)
    ),
}


def prompts_of(kind: str, depth: str) -> Iterator[Prompt]:
    """Yield prompts of every range and form of *kind* at *depth*."""
    for within in EVERY_KIND[kind].ranges:
        for seed in range(3):
            for count in (8, 4, 1):
                try:
                    yield from make_prompts(kind, within, count, seed, depth=depth)
                except ValueError:
                    continue
                break


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize("kind", EVERY_KIND)
def test_as_many_things_can_be_moved_as_the_question_speaks_of(kind: str, depth: str):
    prompts = list(prompts_of(kind, depth))
    assert prompts or depth != "core"
    for prompt in prompts:
        scene, shown = make_scene(prompt), type(prompt.picture).__name__
        names = [thing.name for thing in scene.things]
        if prompt.picture is None or shown in STILL:
            expected: object = []
        elif shown == "NumberLine":
            expected = ["marker"] * len(prompt.picture.marked)
            told = {place.name for place in scene.places}
            assert all(f"at {number}" in told for number in prompt.picture.marked)
        elif shown == "NumberCards":
            cards = prompt.picture.numbers
            expected = [f"card {number}" for number in cards if number is not None]
            assert set(prompt.numbers) >= {number for number in cards if number is not None}
        elif kind == "count-out":  # more lie there than are asked for
            loose = len(names)
            assert loose > prompt.answer
            expected = ["counter"] * loose
        else:
            expected = names[:1] * SPOKEN_OF[kind](prompt)
            if kind == "matching":
                upper, lower = (int(each) for each in prompt.fact.split("|")[:2])
                expected = ["spoon"] * upper + ["cup"] * lower
        assert names == expected, prompt


@given(pictures)
@settings(max_examples=300, deadline=None)
def test_every_thing_lies_in_the_box_apart_from_the_others(picture):
    scene = make_scene(Prompt("own", "□", "How many?", "", (), picture, {}))
    for thing in scene.things:
        assert thing.reach <= thing.x <= WIDE - thing.reach
        assert thing.reach <= thing.y <= HIGH - thing.reach
    spots = {(thing.x, thing.y) for thing in scene.things}
    assert len(spots) == len(scene.things)


@given(pictures)
@settings(max_examples=300, deadline=None)
def test_a_scene_leaves_out_no_mark_of_its_picture_and_draws_none_twice(picture):
    scene = make_scene(Prompt("own", "□", "How many?", "", (), picture, {}))
    drawn = fromstring(scene.svg)
    edges = len(drawn.findall(f".//{SVG}circle[@class='thing-edge']"))
    assert edges == len(scene.things)
    marks = [each for each in drawn.iter() if each.tag not in (f"{SVG}svg", f"{SVG}g")]
    kept = read(picture)
    before = [each for each in kept.iter() if each.tag not in (f"{SVG}svg", f"{SVG}title")]
    assert len(marks) - edges == len(before)


@pytest.mark.parametrize("kind", PICTURES)
def test_a_picture_either_stands_still_or_has_things_to_move(kind):
    found: list[bool] = []

    @given(PICTURES[kind])
    @settings(max_examples=30, deadline=None, database=None)
    def look(picture):
        found.append(bool(scene_of(picture).things))

    look()
    assert any(found) is (kind.__name__ not in STILL)


def scene_of(picture) -> Scene:
    return make_scene(Prompt("own", "□", "How many?", "", (), picture, {}))


def test_shared_counters_lie_on_the_plates_they_are_shared_on():
    (prompt,) = make_prompts("halving", 10, 1, 3, depth="with support")
    scene = make_scene(prompt)
    on = [
        sum(hypot(thing.x - plate.x, thing.y - plate.y) < plate.reach for thing in scene.things)
        for plate in scene.places
    ]
    assert [plate.name for plate in scene.places] == ["on plate 1", "on plate 2"]
    assert on == [prompt.answer, prompt.answer]
    assert scene.is_mat


def test_a_frame_has_a_place_for_every_square_and_its_counters_fill_the_first():
    prompt = make_prompts("one-more", 10, 1, 3, depth="core")[0]
    scene = make_scene(prompt)
    assert [place.holds for place in scene.places] == [1] * 10
    filled = [(place.x, place.y) for place in scene.places[: prompt.numbers[0]]]
    assert [(thing.x, thing.y) for thing in scene.things] == filled


def test_a_cross_moves_with_the_counter_it_crosses_out():
    (prompt,) = make_prompts("taking-away", 10, 1, 3, depth="with support")
    crossed = ["<path" in thing.look for thing in make_scene(prompt).things]
    assert crossed.count(True) == prompt.numbers[1]
    assert "<path" not in make_scene(prompt).ground


def test_the_empty_box_on_a_number_line_is_not_told():
    (prompt,) = make_prompts("missing-number", 10, 1, 3, depth="with support")
    told = [place.name for place in make_scene(prompt).places]
    assert f"at {prompt.answer}" not in told
    assert told.count("at the empty box") == 1


def test_scenes_are_set_where_django_is_not_installed():
    code = "import sys; sys.modules['django'] = None; import tasks.lessons.scenes"
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr

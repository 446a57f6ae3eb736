"""What is done together: nothing to answer, and a picture to point at."""

import pytest

from tasks.numberwork import (
    DEPTHS,
    EVERY_KIND,
    Kind,
    Prompt,
    make_prompts,
    prompt_from_json,
    prompt_to_json,
)
from tasks.numberwork.pictures import NumberLine

TOGETHER = [kind for kind in EVERY_KIND.values() if kind.together]


def every_prompt(kind: Kind, within: int, depth: str) -> list[Prompt]:
    """Return what a few seeds draw."""
    return [make_prompts(kind.name, within, 1, seed, depth=depth)[0] for seed in range(12)]


@pytest.mark.parametrize("kind", TOGETHER, ids=[kind.name for kind in TOGETHER])
def test_nothing_is_answered_and_there_is_something_to_point_at(kind: Kind):
    for within in kind.ranges:
        for depth in DEPTHS:
            for prompt in every_prompt(kind, within, depth):
                assert not prompt.can_be_marked
                assert not prompt.mistakes and not prompt.choices and "□" not in prompt.sentence
                assert prompt.picture.svg().startswith("<svg")
                assert max(prompt.numbers) <= within
                assert prompt_from_json(prompt_to_json(prompt)) == prompt


@pytest.mark.parametrize("step", ["ones", "twos", "fives", "tens"])
def test_the_stretch_of_a_count_is_what_the_line_shows_and_ten_steps_at_most(step: str):
    kind = EVERY_KIND[f"counting-aloud-in-{step}"]
    for within in kind.ranges:
        for depth in DEPTHS:
            for prompt in every_prompt(kind, within, depth):
                low, high = sorted(prompt.numbers)
                assert isinstance(prompt.picture, NumberLine)
                assert (prompt.picture.start, prompt.picture.end) == (low, high)
                assert len(prompt.picture.numbers) <= 11
                assert (prompt.numbers[0] == high) is (depth == "challenge")


def test_a_chosen_number_is_the_one_that_is_shown():
    (prompt,) = make_prompts("number-of-the-day-shown", 10, 1, 3, number=7)
    assert (prompt.sentence, prompt.numbers) == ("7", (7,))
    again = make_prompts("number-of-the-day-shown", 10, 1, 4, [prompt], number=7)[0]
    assert again.numbers == (7,)
    assert again.picture != prompt.picture

"""Every prompt of every kind is right, in range, sayable and drawable."""

import re
from functools import cache

import pytest
from hypothesis import given

from tasks.numberwork import (
    DEPTHS,
    KINDS,
    make_prompts,
    prompt_from_json,
    prompt_to_json,
    speak,
    write,
)
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import pool_of
from tests.tasks.numberwork.drawing import EVERY, UNHURRIED, prompt_sets
from tests.tasks.numberwork.solver import solve

HALVES = {"halving", "halving-number-sentence", "can-it-be-halved", "halves-of-shapes"}


@cache
def every_prompt(kind):
    """Make every prompt of a kind, in all ranges and depths, each in one outer variation."""
    pools = [pool_of(*every) for every in EVERY if every[0] == kind]
    settings = [every[1:] for every in EVERY if every[0] == kind]
    variants = KINDS[kind].variants
    return [
        prompt_of(pool.kind, ask, within, depth, place % variants)
        for pool, (within, depth) in zip(pools, settings, strict=True)
        for place, ask in enumerate(pool.asks)
    ]


@pytest.mark.parametrize("kind", KINDS)
def test_the_answer_is_the_one_the_sentence_and_picture_ask_for(kind):
    for prompt in every_prompt(kind):
        assert set(prompt.right_answers) == solve(prompt), prompt
        assert prompt.answer == prompt.right_answers[0]


@pytest.mark.parametrize("kind", KINDS)
def test_numbers_and_answers_stay_in_range(kind):
    for prompt in every_prompt(kind):
        shown = [int(number) for number in re.findall(r"\d+", prompt.sentence)]
        right = [
            number
            for answer in prompt.right_answers
            for number in (answer if isinstance(answer, tuple) else (answer,))
            if isinstance(number, int)
        ]
        assert all(0 <= number <= prompt.within for number in (*shown, *prompt.numbers, *right)), (
            prompt
        )


@pytest.mark.parametrize("kind", KINDS)
def test_a_mistake_never_gives_a_right_answer_and_is_one_the_kind_names(kind):
    for prompt in every_prompt(kind):
        assert not set(prompt.mistakes.values()) & set(prompt.right_answers), prompt
        assert prompt.mistakes.keys() <= KINDS[kind].mistakes.keys()
        assert all(not isinstance(wrong, int) or wrong >= 0 for wrong in prompt.mistakes.values())


@pytest.mark.parametrize("kind", ["halving", "halving-number-sentence"])
def test_an_odd_number_is_never_halved(kind):
    for prompt in every_prompt(kind):
        whole = prompt.answer if prompt.form == "unknown" else prompt.numbers[0]
        assert whole % 2 == 0


@pytest.mark.parametrize("kind", KINDS)
def test_odd_numbers_meet_halving_only_where_it_is_asked_whether_they_can_be_halved(kind):
    for prompt in every_prompt(kind):
        if "half" in prompt.sentence or "÷" in prompt.sentence:
            assert kind in HALVES
        if kind == "sharing-equally" and prompt.form == "each" and prompt.numbers[1] == 2:
            assert prompt.numbers[0] % 2 == 0


@UNHURRIED
@given(prompt_sets())
def test_a_prompt_can_be_said_written_and_stored(prompts):
    for prompt in prompts:
        assert prompt_from_json(prompt_to_json(prompt)) == prompt
        assert speak(prompt) == prompt.spoken
        assert write(prompt) == prompt.sentence
        assert "□" in prompt.sentence


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_said_aloud_has_words_for_numbers_and_signs(kind):
    for prompt in every_prompt(kind):
        assert not re.search(r"[\d□÷×+−=<>{}_]", prompt.spoken), prompt.spoken
        assert prompt.spoken[0].isupper()
        assert prompt.spoken.endswith(("?", ".", "!"))
        assert "  " not in prompt.spoken


@UNHURRIED
@given(prompt_sets(most=4))
def test_every_picture_draws_itself_and_says_what_it_shows(prompts):
    for prompt in prompts:
        if prompt.picture is not None:
            assert prompt.picture.svg().startswith("<svg")
            assert prompt.picture.alt


@pytest.mark.parametrize("kind", KINDS.values(), ids=list(KINDS))
def test_a_kind_tells_the_teacher_everything_it_can_ask_and_show(kind):
    prompts = every_prompt(kind.name)
    assert {prompt.form for prompt in prompts} == set(kind.forms)
    assert {name for prompt in prompts for name in prompt.mistakes} == set(kind.mistakes)
    assert set(kind.depths) == set(DEPTHS)
    assert len(set(kind.depths.values())) == len(DEPTHS)
    assert len(kind.fetch) >= 2
    assert kind.example in examples(kind)


def examples(kind):
    """Yield every sentence a kind can show, in all its outer variations."""
    for within in kind.ranges:
        for depth in DEPTHS:
            for ask in pool_of(kind.name, within, depth).asks:
                for variant in range(kind.variants):
                    yield prompt_of(kind, ask, within, depth, variant).sentence


@pytest.mark.parametrize("kind", KINDS)
def test_the_three_depths_ask_different_things(kind):
    within = KINDS[kind].ranges[-1]
    prompts = [prompt for prompt in every_prompt(kind) if prompt.within == within]
    seen = [
        {(prompt.sentence, repr(prompt.picture)) for prompt in prompts if prompt.depth == depth}
        for depth in DEPTHS
    ]
    assert seen[0] != seen[1] != seen[2] != seen[0]


def test_the_same_prompts_come_from_the_same_arguments():
    first = make_prompts("story-problems", 10, 8, 7)
    assert make_prompts("story-problems", 10, 8, 7) == first
    assert make_prompts("story-problems", 10, 8, 8) != first

"""A question of a teacher's own is one more prompt: limits, pictures, answers, languages."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.cards.languages import said_in
from tasks.numberwork import marks, prompt_from_json, prompt_to_json
from tasks.numberwork.by_hand.own import (
    LONGEST,
    NotAnOwnPromptError,
    own_prompt,
)
from tasks.numberwork.by_hand.pictures import DRAWABLE, picture_of
from tasks.numberwork.pictures.ink import WIDEST
from tasks.numberwork.showing.facts import facts_of
from tasks.numberwork.words import LANGUAGES
from tests.tasks.numberwork.pictures.svg_reading import read

HOWS = ["number", "several", "yes-no", "choices", "unchecked"]


def test_it_is_kept_and_read_back_as_every_prompt_is():
    prompt = own_prompt("How many socks are __?", "counters", "7, 2", "several", "5, 7")

    assert prompt.sentence == "How many socks are □?"
    assert prompt.answers == (5, 7)
    assert prompt_from_json(prompt_to_json(prompt)) == prompt


@pytest.mark.parametrize(
    ("how", "right", "choices", "typed", "is_right"),
    [
        ("number", "4", "", "4", True),
        ("number", "4", "", "four", True),
        ("number", "4", "", "5", False),
        ("several", "3, 4 or 5", "", "5", True),
        ("yes-no", "Yes", "", "yes", True),
        ("yes-no", "yes", "", "no", False),
        ("choices", "the same", "more, fewer, the same", "the same", True),
        ("choices", "the same", "more, fewer, the same", "more", False),
    ],
)
def test_what_is_answered_is_judged_by_what_the_teacher_said_is_right(
    how, right, choices, typed, is_right
):
    prompt = own_prompt("Which is it?", how=how, right=right, choices=choices)

    assert marks(prompt, typed) is is_right


def test_what_is_not_checked_is_neither_right_nor_wrong():
    assert not own_prompt("Draw your kitchen").can_be_marked


def test_it_tells_no_mistake_apart_and_shows_nothing_by_itself():
    prompt = own_prompt("Count to 20", "counters", "20", "number", "20")

    assert not prompt.mistakes
    assert not facts_of(prompt).known


@pytest.mark.parametrize("language", [name for name in LANGUAGES if name != "en"])
def test_it_stays_as_it_was_written_and_its_picture_is_told_in_each_language(language):
    prompt = own_prompt("How many are there?", "ten-frame", "7", "yes-no", "no")

    said = said_in(prompt, language)

    assert (said.lang, said.sentence, said.choices) == ("en", prompt.sentence, ("yes", "no"))
    assert said.picture != prompt.picture.alt


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ({"sentence": "  \u202e\u200b "}, "sentence"),
        ({"sentence": "__"}, "sentence"),
        ({"sentence": "x" * (LONGEST + 1)}, "sentence"),
        ({"sentence": "How?", "picture": "ten-frame", "numbers": "21"}, "numbers"),
        ({"sentence": "How?", "picture": "ten-frame", "numbers": ""}, "numbers"),
        ({"sentence": "How?", "picture": "part-whole", "numbers": "8, 5, 4"}, "numbers"),
        ({"sentence": "How?", "picture": "number-line", "numbers": "0, 100"}, "numbers"),
        ({"sentence": "How?", "picture": "tally", "numbers": "<b>7</b>"}, "numbers"),
        ({"sentence": "How?", "how": "number", "right": "4, 5"}, "right"),
        ({"sentence": "How?", "how": "number", "right": "1000"}, "right"),
        ({"sentence": "How?", "how": "yes-no", "right": "perhaps"}, "right"),
        ({"sentence": "How?", "how": "choices", "right": "a", "choices": "a"}, "choices"),
        ({"sentence": "How?", "how": "choices", "right": "a", "choices": "a, A"}, "choices"),
        ({"sentence": "How?", "how": "choices", "right": "c", "choices": "a, b"}, "right"),
    ],
)
def test_what_makes_no_question_is_told_at_its_field(typed, part):
    with pytest.raises(NotAnOwnPromptError) as refusal:
        own_prompt(**typed)

    assert refusal.value.part == part
    assert str(refusal.value)


@pytest.mark.parametrize("name", DRAWABLE)
def test_every_picture_draws_the_example_it_gives(name):
    picture = picture_of(name, DRAWABLE[name].example)

    assert picture.alt
    assert read(picture)


@settings(max_examples=300, deadline=None)
@given(
    sentence=st.text(max_size=170),
    picture=st.sampled_from(["", *DRAWABLE]),
    numbers=st.text("0123456789 ,?_-", max_size=14) | st.text(max_size=10),
    how=st.sampled_from(HOWS),
    right=st.text(max_size=12) | st.sampled_from(["4", "yes", "1, 2"]),
    choices=st.text(max_size=20),
)
def test_no_typed_text_breaks_the_question_or_its_picture(
    sentence, picture, numbers, how, right, choices
):
    try:
        prompt = own_prompt(sentence, picture, numbers, how, right, choices)
    except NotAnOwnPromptError as refusal:
        assert refusal.part in ("sentence", "numbers", "right", "choices")
        return
    assert len(prompt.sentence) <= LONGEST
    assert prompt.sentence.isprintable()
    assert prompt_from_json(prompt_to_json(prompt)) == prompt
    assert not re.search(r"\d", prompt.fact)
    if prompt.picture:
        assert read(prompt.picture)
        assert prompt.picture.draw().width <= 2 * WIDEST

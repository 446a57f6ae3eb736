"""Numbers that a teacher types: exactly these questions in her order, or why not."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tasks.numberwork import DEPTHS, EVERY_KIND
from tasks.numberwork.by_hand.reading import (
    MOST,
    can_be_typed,
    example,
    made,
    named_by,
    read_typed,
)

TYPEABLE = [
    (name, within)
    for name, kind in EVERY_KIND.items()
    if can_be_typed(name) and not kind.one_number
    for within in kind.ranges
]


def sentences(kind: str, text: str, within: int = 10, depth: str = "core") -> list[str]:
    typed = read_typed(kind, within, depth, text)
    assert not typed.refusals
    return [prompt.sentence for prompt in made(typed, kind, within, 7)]


def refusals(kind: str, text: str, within: int = 10) -> list[str]:
    return list(read_typed(kind, within, "core", text).refusals)


@pytest.mark.parametrize(
    ("kind", "text", "asked"),
    [
        ("halving", "6, 10, 8", ["half of 6 = □", "half of 10 = □", "half of 8 = □"]),
        ("halving", "8 ÷ 2", ["half of 8 = □"]),
        ("halving-number-sentence", "8 / 2; 6", ["8 ÷ 2 = □", "6 ÷ 2 = □"]),
        ("adding", "3 + 4, 5+2", ["3 + 4 = □", "5 + 2 = □"]),
        ("adding", "2, 4", ["2 + 4 = □"]),
        ("adding", "3 + 4 = 7", ["3 + 4 = □"]),
        ("taking-away", "9 - 2\n7 – 7", ["9 − 2 = □", "7 − 7 = □"]),
        ("number-bonds", "3 + 7, _ + 4 = 10", ["3 + □ = 10", "□ + 4 = 10"]),
        ("doubling", "3, 4 + 4", ["double 3 = □", "4 + 4 = □"]),
        ("missing-number", "7, 8, _, 10", ["7, 8, □, 10"]),
        ("comparing-signs", "7 ? 2", ["7 □ 2"]),
        ("one-more", "9, 3", ["one more than 9 is □", "one more than 3 is □"]),
    ],
)
def test_what_is_typed_is_asked_in_the_order_it_is_typed(kind, text, asked):
    assert sentences(kind, text) == asked


def test_a_story_follows_the_sign_that_was_typed():
    typed = read_typed("story-problems", 10, "core", "3 + 4, 7 − 3")

    assert [each.ask.answer for each in typed.found] == [7, 4]


def test_a_number_typed_twice_is_asked_in_another_way_as_long_as_there_is_one():
    assert sentences("halving", "6, 6") == ["half of 6 = □", "□ = half of 6"]
    assert refusals("halving", ", ".join(["6"] * 5))[-1] == "“6” is there twice. Take one out."


def test_a_question_of_another_depth_is_asked_all_the_same():
    assert sentences("adding", "9 + 8", 20, "with support") == ["9 + 8 = □"]


def test_what_is_asked_elsewhere_that_day_is_asked_in_another_way():
    typed = read_typed("halving", 10, "core", "6", asked={"halving/6/half of"})

    assert [each.ask.form for each in typed.found] == ["equals first"]


@pytest.mark.parametrize(
    ("kind", "text", "why"),
    [
        ("halving", "7", "7 cannot be halved into two equal groups here: one would be left over."),
        ("sharing-equally", "9 and 2", "9 and 2 cannot be shared out equally here"),
        ("halving", "12", "“12” needs numbers up to 20. Choose that below"),
        ("adding", "9 + 8", "“9 + 8” needs numbers up to 20."),
        ("adding", "9 − 8", "“9 − 8” cannot be asked here. Type it like this: 2 + 5"),
        ("adding", "3 + 4 = 8", "“3 + 4 = 8” cannot be asked here."),
        ("halving", "moon", "“moon” cannot be asked here. Type it like this: 4, 6, 10"),
        ("halving", " , ", "Type the numbers, like this: 4, 6, 10"),
        ("counting-on-in-ones", ",".join(map(str, range(1, 10))) + ";3;4;5;6", f"at most {MOST}"),
    ],
)
def test_what_cannot_be_asked_is_told_with_what_to_do(kind, text, why):
    assert why in " ".join(refusals(kind, text))


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize(("kind", "within"), TYPEABLE)
def test_every_kind_reads_the_example_it_gives(kind, within, depth):
    typed = read_typed(kind, within, depth, example(kind, within, depth))

    assert typed.found
    assert not typed.refusals


@pytest.mark.parametrize(("kind", "within"), TYPEABLE)
def test_the_questions_of_a_part_are_offered_as_they_could_have_been_typed(kind, within):
    typed = read_typed(kind, within, "core", example(kind, within, "core"))
    prompts = made(typed, kind, within, 3)

    again = read_typed(kind, within, "core", named_by(prompts))
    assert again.facts == typed.facts


@settings(max_examples=150, deadline=None)
@given(
    kind=st.sampled_from(["halving", "adding", "number-bonds", "story-problems", "comparing"]),
    text=st.text(max_size=60) | st.text("0123456789+−-÷/_?,; and=", max_size=40),
)
def test_no_text_breaks_the_reading_and_nothing_is_asked_that_was_not_typed(kind, text):
    typed = read_typed(kind, 10, "core", text)

    assert typed.found or typed.refusals
    for prompt in made(typed, kind, 10, 1):
        assert max(prompt.numbers, default=0) <= 10
        assert prompt.kind == kind

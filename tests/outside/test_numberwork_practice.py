"""Number work against what Reception classes do and what is published about it.

Source: common practice, no source, where a test names none.
"""

from statistics import NormalDist

import pytest

from tasks.numberwork import KINDS, ROUTES, make_prompts, plan_sequence
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pictures import CompareSets, FiveAndDots, ScatteredDots, Tally, TenFrame
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import DEPTHS


def every(kind, within, depth="core"):
    """Make every prompt of a pool."""
    pool = pool_of(kind, within, depth)
    return [prompt_of(pool.kind, ask, within, depth) for ask in pool.asks]


def test_counting_in_fives_to_a_hundred_has_twenty_numbers_that_end_in_five_or_nought():
    reached = {prompt.answer for prompt in every("counting-on-in-fives", 100)}
    assert reached == {5 * place for place in range(1, 21)}
    assert {number % 10 for number in reached} == {0, 5}


def test_counting_in_fives_goes_on_past_a_hundred():
    after = {p.numbers[-1]: p.answer for p in every("counting-on-in-fives", 200)}
    assert (after[100], after[105]) == (105, 110)


def test_counting_in_ones_goes_well_past_twenty():
    """Source: early learning goal Numerical Patterns, "Verbally count beyond 20"."""
    assert max(KINDS["counting-on-in-ones"].ranges) >= 100
    warm_ups = [draft.warm_up for draft in plan_sequence("halving", 10, 10, 1)]
    assert any(part.within > 20 for part in warm_ups)


def test_counting_to_a_hundred_by_ones_and_tens_is_there():
    """Source: Common Core K.CC.A.1."""
    assert {prompt.answer for prompt in every("counting-on-in-tens", 100)} == set(
        range(10, 101, 10)
    )
    assert {prompt.answer for prompt in every("counting-on-in-ones", 100)} == set(range(1, 101))


@pytest.mark.parametrize(("last", "following"), [(9, 10), (19, 20), (29, 30), (10, 11)])
def test_one_more_across_a_ten_is_asked(last, following):
    asked = {p.numbers[0]: p.answer for p in every("one-more", 50) if p.form == "is"}
    assert asked[last] == following


def test_one_more_across_a_ten_is_no_beginning():
    for prompt in every("one-more", 50, "with support"):
        assert prompt.numbers[0] % 10 != 9 or prompt.numbers[0] == 9


def test_teen_numbers_are_one_ten_and_some_ones():
    asked = {p.numbers[0]: p.answer for p in every("number-of-the-day", 20) if "tens" in p.form}
    assert asked == {number: number - 10 for number in range(11, 21)}


def test_the_number_of_the_day_is_shown_as_tally_and_as_five_and_some():
    for prompt in every("number-of-the-day", 10, "with support"):
        if prompt.form == "tally":
            assert prompt.picture == Tally(prompt.answer)
        if prompt.form == "dots":
            assert prompt.picture == FiveAndDots(prompt.answer)


def test_the_number_of_the_day_asks_for_a_second_different_sentence():
    forms = {prompt.form for prompt in every("number-of-the-day", 10)}
    assert {"adding", "another way"} <= forms


def test_half_of_ten_is_five_and_half_of_twelve_is_six():
    asked = {p.numbers[0]: p.answer for p in every("halving", 20) if p.form == "half of"}
    assert (asked[10], asked[12]) == (5, 6)


def test_when_halving_the_number_after_the_sign_is_always_two():
    for depth in DEPTHS:
        for prompt in every("halving-number-sentence", 20, depth):
            assert "÷ 2" in prompt.sentence


def test_sharing_between_two_ends_on_the_second_side():
    for prompt in every("sharing-equally", 20):
        number, plates = prompt.numbers
        turns = [turn % plates for turn in range(number)]
        assert turns[-1] == plates - 1
        assert prompt.answer == turns.count(0) == turns.count(plates - 1)


def test_odd_numbers_leave_one_without_a_partner():
    for prompt in every("odd-or-even", 20):
        assert prompt.answer == ("odd" if prompt.numbers[0] % 2 else "even")


def test_doubling_is_learnt_before_halving():
    assert "doubling" in ROUTES["halving"].before
    assert "halving" not in ROUTES["doubling"].before
    assert plan_sequence("halving", 5, 10, 1)[0].quick_recall.kind == "doubling"


def test_more_than_ten_things_are_never_scattered_to_be_counted():
    """Source: Common Core K.CC.B.5, "as many as 10 things in a scattered configuration"."""
    for depth in DEPTHS:
        for prompt in every("counting-amounts", 20, depth):
            assert not isinstance(prompt.picture, ScatteredDots) or prompt.picture.number <= 10


def test_nobody_is_asked_to_see_more_than_five_without_counting():
    """Source: early learning goal Number, "Subitise … up to 5"; Jansen et al. 2014 for layouts."""
    for depth in DEPTHS:
        for prompt in every("subitising", 5, depth):
            assert prompt.answer <= 5
            if isinstance(prompt.picture, ScatteredDots):
                assert prompt.picture.number <= 3


def test_sets_to_compare_by_looking_can_be_told_by_a_four_year_old():
    """Source: model of Pica et al. 2004; w = .383 at age 4, Halberda and Feigenson, from memory."""
    for prompt in every("comparing", 10, "with support"):
        if isinstance(prompt.picture, CompareSets):
            few, many = sorted((prompt.picture.left, prompt.picture.right))
            spread = 0.383 * (few**2 + many**2) ** 0.5
            assert NormalDist().cdf((many - few) / spread) >= 0.87


def test_sets_to_compare_have_up_to_ten_objects():
    """Source: Common Core K.CC.C.6, footnote "Include groups with up to ten objects"."""
    for depth in DEPTHS:
        for prompt in every("comparing", 100, depth):
            if isinstance(prompt.picture, CompareSets):
                assert max(prompt.picture.left, prompt.picture.right) <= 10


def test_numerals_to_write_are_those_to_twenty():
    """Source: Common Core K.CC.A.3, "a written numeral 0-20"."""
    assert {prompt.answer for prompt in every("number-formation", 20)} == set(range(21))


def test_ordering_cards_is_no_beginning():
    """Source: Knudsen et al. 2015: only 26 % of four-year-olds ordered the cards 1 to 6."""
    drafts = plan_sequence("ordering", 5, 10, 1)
    assert drafts[0].main_task.kind == "comparing"
    assert all(len(p.numbers) == 3 for p in every("ordering", 10, "with support"))


def test_what_is_fetched_stands_in_for_classroom_equipment_and_costs_nothing():
    for kind in KINDS.values():
        assert len(kind.fetch) >= 3
        for thing in kind.fetch:
            assert not {"buy", "print", "order"} & set(thing.split())


def test_cards_about_food_or_small_things_carry_their_caution():
    """Source: DfE food safety for early years providers; small parts: from memory."""
    for kind in KINDS.values():
        fetched = " ".join(kind.fetch)
        said = " ".join(caution.order for caution in kind.cautions)
        if "bread" in fetched or "flour" in fetched:
            assert "allergies" in said
        if "peg" in fetched:
            assert "small things" in said


def test_ten_frames_hold_what_the_prompt_says():
    for prompt in make_prompts("counting-amounts", 20, 20, 2):
        if isinstance(prompt.picture, TenFrame):
            assert prompt.picture.filled == prompt.answer

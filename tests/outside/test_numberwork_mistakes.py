"""Names of mistakes against published and handed-down examples.

Source: NRC 2009, Mathematics Learning in Early Childhood, p. 147 ("eighteen" written 81). The
others from memory: Fuson 1988 (counting the start number), Zuber et al. 2009 (teens and tens).
"""

import pytest

from tasks.numberwork import KINDS, labels, make_prompts, read_answer
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import Prompt


def one(kind: str, numbers: tuple[int, ...], within: int, form: str, depth: str = "core") -> Prompt:
    """Return the prompt of a kind about these numbers in this form."""
    pool = pool_of(kind, within, depth)
    ask = next(ask for ask in pool.asks if (ask.numbers, ask.form) == (numbers, form))
    return prompt_of(pool.kind, ask, within, depth)


SWAPPED, TEEN_TY = "wrote the digits the wrong way round", "mixed up teen and ty"


def test_eighteen_written_81_is_swapped_digits():
    prompt = one("number-formation", (18,), 20, "hear")
    assert labels(prompt, 81) == (SWAPPED,)


@pytest.mark.parametrize("digit", range(3, 10))
def test_thirteen_and_thirty_to_nineteen_and_ninety_are_teen_and_ty(digit):
    teen = one("one-more", (9 + digit,), 100, "is")
    ty = one("one-more", (10 * digit - 1,), 100, "is")
    assert TEEN_TY in labels(teen, 10 * digit)
    assert TEEN_TY in labels(ty, 10 + digit)


def test_eleven_and_twenty_two_cannot_show_swapped_digits():
    for number in (11, 22, 33):
        prompt = one("one-more", (number - 1,), 100, "is")
        assert SWAPPED not in prompt.mistakes


def test_four_and_three_are_six_counts_the_start_number():
    assert labels(one("adding", (4, 3), 10, "total"), 6) == ("counted the start number",)


def test_taking_three_from_eight_leaving_six_counts_the_start_number():
    assert labels(one("taking-away", (8, 3), 10, "left"), 6) == ("counted the start number",)


def test_three_and_one_are_three_has_both_labels_or_none():
    found = labels(one("adding", (3, 1), 10, "total"), 3)
    assert set(found) == {"counted the start number", "said the first number"}


def test_adding_nothing_cannot_show_taking_away():
    prompt = one("adding", (4, 0), 10, "total")
    assert "took away" not in prompt.mistakes
    assert labels(prompt, 4) == ()


def test_wrong_operation_is_the_other_operation():
    assert "took away" in labels(one("adding", (5, 3), 10, "total"), 2)
    assert "added" in labels(one("taking-away", (5, 3), 10, "left"), 8)


def test_double_and_take_one_for_half():
    prompt = one("halving", (8, 2), 10, "half of")
    assert labels(prompt, 16) == ("doubled",)
    assert labels(prompt, 7) == ("took one away",)
    assert labels(prompt, 6) == ("took two away",)


def test_half_of_four_cannot_tell_halving_from_taking_two_away_but_half_of_eight_can():
    assert "took two away" not in one("halving", (4, 2), 10, "half of").mistakes
    assert one("halving", (8, 2), 10, "half of").mistakes["took two away"] == 6


@pytest.mark.parametrize(
    ("answer", "label"),
    [
        (29, "stopped at the end of a ten"),
        ("twenty-ten", "said twenty-ten"),
        (40, "jumped a ten"),
        (31, "left out the round number"),
    ],
)
def test_what_may_come_after_twenty_nine(answer, label):
    prompt = one("counting-on-in-ones", (29,), 50, "after")
    assert label in labels(prompt, answer)


def test_a_shared_number_is_compared_with_its_fair_share():
    """Common practice, no source: n things among k, fair share n div k, left over n mod k."""
    from tasks.numberwork.kinds.sharing import look_at_shares

    assert (look_at_shares(8, (5, 3)).spread, look_at_shares(8, (5, 3)).fair) == (2, False)
    assert look_at_shares(7, (3, 3)).left_over == 7 % 2
    assert look_at_shares(7, (3, 3)).fair
    assert not look_at_shares(8, (3, 3)).fair


def test_every_mistake_has_a_sentence_that_says_what_was_done():
    for kind in KINDS.values():
        for sentence in kind.mistakes.values():
            assert sentence[0].isupper()
            assert not sentence.endswith(".")


def test_a_set_of_halves_tells_every_two_of_its_mistakes_apart():
    prompts = make_prompts("halving", 10, 4, 1)
    names = {name for prompt in prompts for name in prompt.mistakes}
    for one_name in names:
        for other in names - {one_name}:
            assert any(
                prompt.mistakes.get(one_name, prompt.answer)
                != prompt.mistakes.get(other, prompt.answer)
                for prompt in prompts
            )


def test_all_of_the_heap_for_five_is_a_child_who_does_not_stop():
    """Source: Wynn 1990, children who know no more than a few number words give a handful or all
    of the things (from memory); by hand: five from seven."""
    prompt = one("count-out", (5,), 10, "count out", depth="with support")
    assert labels(prompt, 7) == ("put out all of them",)
    assert labels(prompt, 4) == ("one too few",)
    assert labels(prompt, 6) == ("one too many",)
    assert labels(prompt, 5) == ()


def test_more_for_a_row_that_was_only_spread_out_goes_by_its_length():
    """Source: Piaget 1952, The Child's Conception of Number (from memory); that the number is the
    same "regardless of their arrangement": Common Core K.CC.B.4b."""
    spread = one("still-the-same", (7,), 10, "spread out")
    pushed = one("still-the-same", (7,), 10, "pushed together")
    assert (spread.answer, pushed.answer) == ("the same", "the same")
    assert labels(spread, "more") == ("went by how long the row is",)
    assert labels(spread, "fewer") == ()
    assert labels(pushed, "fewer") == ("went by how long the row is",)
    assert one("still-the-same", (7,), 10, "one put in").answer == 8
    assert one("still-the-same", (7,), 10, "one taken out").answer == 6


def test_a_guess_is_right_where_it_is_near_and_named_where_it_is_half_or_twice():
    """Source: common practice, no source; worked by hand for eight: six to ten are near."""
    prompt = guess_of(8, 20)
    assert set(prompt.right_answers) == {6, 7, 8, 9, 10}
    assert labels(prompt, 4) == ("guessed half as many",)
    assert labels(prompt, 16) == ("guessed twice as many",)
    assert labels(prompt, 9) == ()


def guess_of(number: int, within: int) -> Prompt:
    """Return the prompt that has *number* dots guessed."""
    pool = pool_of("estimate-and-count", within, "core")
    ask = next(ask for ask in pool.asks if ask.fact == f"about:{number}")
    return prompt_of(pool.kind, ask, within, "core")


def test_the_second_from_the_wrong_end_counted_from_the_other_end():
    """Source: common practice, no source; by hand: spoon, fork, cup, sock, key."""
    pool = pool_of("ordinals", 5, "core")
    left, right = (
        next(
            prompt_of(pool.kind, ask, 5, "core")
            for ask in pool.asks
            if (ask.fact, ask.form) == (f"{row}:2", form)
        )
        for row, form in (
            ("spoon+fork+cup+sock+key", "from the left"),
            ("fork+cup+sock+key+leaf", "from the right"),
        )
    )
    assert (left.answer, right.answer) == ("fork", "key")
    assert labels(left, "sock") == ("counted from the other end",)
    assert labels(left, "spoon") == ("one place too early",)
    assert labels(left, "cup") == ("one place too late",)


def test_four_for_four_and_four_fingers_is_one_hand_only():
    """Source: common practice, no source; by hand: 4 and 4 are 8, of 8 there are 4 on each."""
    shown = one("finger-doubles", (4,), 10, "both hands")
    assert shown.answer == 8
    assert labels(shown, 4) == ("said one hand only",)
    assert labels(shown, 5) == ("put up one more",)
    halved = one("finger-doubles", (8,), 10, "one hand", depth="challenge")
    assert halved.answer == 4
    assert labels(halved, 8) == ("said the number itself",)


def test_seven_claps_counted_as_six_are_one_too_few_and_are_not_told_to_who_listens():
    """Source: common practice, no source."""
    claps = one("counting-sounds", (7,), 10, "claps")
    both = one("counting-sounds", (4, 3), 10, "claps and stamps", "challenge")

    assert labels(claps, 6) == ("one too few",)
    assert "seven" in claps.sentence
    assert "seven" not in claps.spoken.casefold()
    assert labels(both, 4) == ("said the first number",)
    assert "four" not in both.spoken.casefold()


def test_five_and_five_called_more_goes_by_the_longer_row():
    """Source: Piaget 1952 (from memory): the spread-out row of as many is called more."""
    pool = pool_of("matching", 10, "core")
    ask = next(ask for ask in pool.asks if (ask.fact, ask.form) == ("5|5|spoon", "which has more"))
    prompt = prompt_of(pool.kind, ask, 10, "core")
    needed = one("matching", (7, 2), 10, "needed", "challenge")

    assert prompt.answer == "the same"
    assert labels(prompt, "spoons") == ("went by the longer row",)
    assert needed.answer == 5
    assert labels(needed, 2) == ("said the smaller number",)


def test_spoon_fork_fork_goes_on_as_cup_sock_sock_and_taking_turns_is_told_from_it():
    """Source: Rittle-Johnson et al. 2013 (from memory): AB is made whatever was asked for."""
    pool = pool_of("making-patterns", 10, "core")
    ask = next(ask for ask in pool.asks if ask.fact == "spoon+fork+fork:3")
    prompt = prompt_of(pool.kind, ask, 10, "core")
    assert prompt.sentence == "the same pattern with other things: cup, sock, □"
    assert prompt.answer == "sock"
    assert "only took turns" in labels(prompt, "cup")
    assert labels(prompt, "fork") == ("kept the old things",)


def test_the_part_that_repeats_in_spoon_spoon_cup_is_three_and_not_two():
    """Source: common practice, no source."""
    pool = pool_of("making-patterns", 10, "challenge")
    ask = next(ask for ask in pool.asks if ask.fact == "spoon+spoon+fork:6" and ask.form == "part")
    prompt = prompt_of(pool.kind, ask, 10, "challenge")
    assert prompt.answer == 3
    assert "counted the different things" in labels(prompt, 2)


def test_a_story_that_takes_two_away_for_three_add_two_ends_with_one():
    """Source: Common Core K.OA.A.1 for what is represented; by hand: 3 + 2 and 3 − 2."""
    told = one("number-stories", (3, 2), 10, "plus")
    gap = one("number-stories", (3, 8), 10, "missing", "challenge")
    sign = one("number-stories", (8, 3), 10, "sign, taken away", "challenge")

    assert (told.answer, gap.answer, sign.answer) == (5, 5, "−")
    assert labels(told, 1) == ("took away",)
    assert labels(gap, 11) == ("added",)
    assert labels(sign, "+") == ("mixed up add and take away",)
    assert read_answer(sign, "-") == "−"


@pytest.mark.parametrize("digit", range(3, 10))
def test_a_teen_number_named_as_the_ten_that_sounds_like_it_is_teen_and_ty(digit):
    read = one("number-names", (10 + digit,), 100, "read")
    pool = pool_of("number-names", 100, "core")
    cards = [ask.numbers for ask in pool.asks if ask.form == "which"]

    assert labels(read, 10 * digit) == (TEEN_TY,)
    assert {frozenset(two) for _named, *two in cards} >= {frozenset({10 + digit, 10 * digit})}


def test_twenty_ten_after_twenty_nine_is_read_where_number_names_are_asked():
    after = one("number-names", (29,), 50, "after")

    assert after.answer == 30
    assert labels(after, 40) == ("jumped a ten",)
    assert labels(after, "twenty-ten") == ("said twenty-ten",)

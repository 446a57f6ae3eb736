"""Names of mistakes against published and handed-down examples.

Source: NRC 2009, Mathematics Learning in Early Childhood, p. 147 ("eighteen" written 81). The
others from memory: Fuson 1988 (counting the start number), Zuber et al. 2009 (teens and tens).
"""

import pytest

from tasks.numberwork import KINDS, labels, make_prompts
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

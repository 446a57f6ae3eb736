"""Arithmetic against a computer algebra system.

Source: sympy, as the judge of equations and of the ways to split a number into two parts.
"""

import pytest
from sympy import Eq, Integer, Rational, solve, symbols
from sympy.utilities.iterables import partitions

from tasks.numberwork import KINDS, make_prompts
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import DEPTHS
from tasks.numberwork.words.work_done import DID, figures_of, work_done

BOX = symbols("box")
EQUATIONS = ("adding", "taking-away", "missing-part", "number-bonds", "halving-number-sentence")


def sentences(kind):
    """Make every prompt of a kind that is one equation with one box."""
    for within in KINDS[kind].ranges:
        for depth in DEPTHS:
            pool = pool_of(kind, within, depth)
            for ask in pool.asks[::3]:
                prompt = prompt_of(pool.kind, ask, within, depth)
                if prompt.sentence.count("□") == 1:
                    yield prompt


def side(text):
    """Read one side of a number sentence as an expression."""
    total, sign = Integer(0), "+"
    words = text.split()
    for place, word in enumerate(words):
        if word in ("+", "−"):
            sign = word
        elif word == "÷":
            total /= Integer(words[place + 1])
        elif words[place - 1] != "÷" or place == 0:
            term = BOX if word == "□" else Integer(word)
            total = total + term if sign == "+" else total - term
    return total


@pytest.mark.parametrize("kind", EQUATIONS)
def test_the_box_holds_the_only_solution(kind):
    for prompt in sentences(kind):
        left, right = prompt.sentence.split(" = ")
        assert solve(Eq(side(left), side(right)), BOX) == [prompt.answer], prompt.sentence


@pytest.mark.parametrize("whole", range(2, 21))
def test_an_open_sentence_has_every_pair_and_no_other(whole):
    pool = pool_of("missing-part", 20, "core")
    ask = next(ask for ask in pool.asks if ask.form == "both parts" and ask.numbers == (whole,))
    # Partitions into at most two parts, both ways round, and with nothing in one part.
    unordered = [dict(parts) for parts in partitions(whole, m=2)]
    ordered = set()
    for parts in unordered:
        terms = [part for part, times in parts.items() for _ in range(times)]
        one, other = (*terms, 0)[:2]
        ordered |= {(one, other), (other, one)}
    assert set(ask.answers) == ordered
    assert len(ask.answers) == whole + 1


def test_doubles_and_halves_undo_each_other():
    for within in (5, 10, 20, 50, 100):
        for ask in pool_of("halving", within, "core").asks:
            assert Rational(ask.numbers[0], 2) == ask.answer
        for ask in pool_of("doubling", within, "core").asks:
            assert Integer(2) * ask.numbers[0] == ask.answer


def test_number_bonds_of_ten_are_the_eleven_ordered_pairs():
    prompts = make_prompts("number-bonds", 10, 11, 1, depth="with support")
    pairs = {(prompt.numbers[0], prompt.answer) for prompt in prompts}
    assert pairs == {(part, 10 - part) for part in range(11)}


@pytest.mark.parametrize("kind", DID)
def test_what_a_child_is_told_it_found_is_true_as_it_stands(kind):
    found = []
    for within in KINDS[kind].ranges:
        for depth in DEPTHS:
            pool = pool_of(kind, within, depth)
            for ask in pool.asks[::3]:
                found.append(figures_of(prompt_of(pool.kind, ask, within, depth)))
    assert any(found)
    for left, sign, right in (each.partition(" = ") for each in found):
        assert not sign or side(left) == side(right), (left, right)


def test_what_was_worked_out_with_words_is_told_as_the_number_sentence_of_it():
    """Common practice, no source: half of 12 is two equal parts of it, and so is a share."""
    told = {
        prompt_of(pool.kind, ask, 20, "core").sentence: work_done(
            prompt_of(pool.kind, ask, 20, "core")
        )
        for pool in (pool_of(kind, 20, "core") for kind in ("halving", "doubling", "one-more"))
        for ask in pool.asks
    }
    assert told["half of 12 = □"] == "You halved: 12 = 6 + 6"
    assert told["double 4 = □"] == "You doubled: 4 + 4 = 8"
    assert told["one more than 4 is □"] == "You found one more: 4 + 1 = 5"

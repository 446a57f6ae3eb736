"""Number words against a number-word library and a list.

Source: num2words, British English; the words to twenty from memory.
"""

import re

import pytest
from num2words import num2words

from tasks.numberwork import KINDS, number_word, speak
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import pool_of

TO_TWENTY = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen twenty"
)
NUMBER_WORDS = {num2words(number, lang="en_GB"): number for number in range(201)}
LONGEST_FIRST = sorted(NUMBER_WORDS, key=len, reverse=True)
HEARD = re.compile(rf"\b({'|'.join(LONGEST_FIRST)})\b(?!-)")


def test_numbers_to_twenty_are_said_as_in_the_list():
    assert [number_word(number) for number in range(21)] == re.findall(r"\w+", TO_TWENTY)


@pytest.mark.parametrize("number", range(201))
def test_numbers_are_said_in_british_english(number):
    assert number_word(number) == num2words(number, lang="en_GB")


def test_hundreds_have_an_and_and_tens_a_hyphen():
    """Common practice, no source."""
    assert number_word(101) == "one hundred and one"
    assert number_word(45) == "forty-five"
    assert number_word(200) == "two hundred"


@pytest.mark.parametrize("number", [-1, 201])
def test_other_numbers_are_refused(number):
    with pytest.raises(ValueError, match="number must be 0 to 200"):
        number_word(number)


SAID_WHOLE = ["adding", "taking-away", "comparing-signs", "one-more", "one-less", "ordering"]


@pytest.mark.parametrize("kind", [name for name in KINDS if "counting-on" in name] + SAID_WHOLE)
def test_what_is_heard_has_the_numbers_of_the_prompt(kind):
    within = KINDS[kind].ranges[-1]
    for depth in ("with support", "core", "challenge"):
        pool = pool_of(kind, within, depth)
        for ask in pool.asks[::7]:
            prompt = prompt_of(pool.kind, ask, within, depth)
            heard = [NUMBER_WORDS[word] for word in HEARD.findall(speak(prompt).casefold())]
            extra = [1] if kind in ("one-more", "one-less") else []
            assert sorted(heard) == sorted([*prompt.numbers, *extra]), prompt.spoken


def test_division_by_two_is_said_as_people_say_it():
    """Common practice, no source: ÷ 2 is sharing equally into two groups, or dividing by two."""
    pool = pool_of("halving-number-sentence", 10, "core")
    for ask in pool.asks:
        spoken = prompt_of(pool.kind, ask, 10, "core").spoken
        assert "shared equally into two groups" in spoken or "divided by two" in spoken

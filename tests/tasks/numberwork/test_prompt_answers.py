"""What families type is read kindly, and marked right only where it is."""

import pytest
from hypothesis import given

from tasks.numberwork import make_prompts, marks, number_word, read_answer
from tests.tasks.numberwork.drawing import UNHURRIED, prompt_sets


def one(kind, within=20, depth="core", form=None):
    """Give a prompt of a kind, in a form where one is named."""
    prompts = make_prompts(kind, within, 8, 3, depth=depth)
    return next(prompt for prompt in prompts if form in (None, prompt.form))


@pytest.mark.parametrize(
    "typed", ["{}", " {} ", "{}.", "= {}", "{word}", "{Word}", " {WORD}! ", "{word} "]
)
def test_a_number_may_be_typed_as_numeral_or_word(typed):
    prompt = one("halving-number-sentence", form="divided")
    word = number_word(prompt.answer)
    text = typed.format(prompt.answer, word=word, Word=word.title(), WORD=word.upper())
    assert marks(prompt, text)


@pytest.mark.parametrize("number", [21, 45, 99, 101, 110, 200])
def test_long_number_words_may_be_spelled_with_or_without_hyphen_and_and(number):
    prompt = one("counting-on-in-ones", 200)
    word = number_word(number)
    for text in (word, word.replace("-", " "), word.replace(" and ", " "), word.upper()):
        assert read_answer(prompt, text) == number


@pytest.mark.parametrize("apostrophe", ["'", "’", "ʼ"])
def test_a_number_word_is_read_with_whichever_apostrophe_a_phone_types(apostrophe):
    # Source: Ukrainian orthography of 2019, section 7: п’ять, дев’ять (from memory).
    assert read_answer(one("adding"), f"п{apostrophe}ять", "uk") == 5
    assert read_answer(one("adding"), f"Дев{apostrophe}ять", "uk") == 9


def test_numerals_of_other_scripts_are_numbers():
    assert read_answer(one("adding"), "١٢") == 12


def test_the_whole_sentence_may_be_typed_with_the_box_filled_in():
    prompt = one("halving-number-sentence", form="divided")
    filled = prompt.sentence.replace("□", str(prompt.answer))
    assert marks(prompt, filled)
    assert marks(prompt, filled.replace(" ", ""))
    minus = one("taking-away", form="left")
    assert marks(minus, minus.sentence.replace("□", str(minus.answer)).replace("−", "-"))


def test_an_empty_answer_is_no_answer():
    for text in ("", "   ", "."):
        assert read_answer(one("adding"), text) is None
        assert not marks(one("adding"), text)


def test_what_is_no_number_comes_back_as_it_is_and_is_not_right():
    assert read_answer(one("adding"), " Lots ") == "lots"
    assert not marks(one("adding"), "lots")


@UNHURRIED
@given(prompt_sets())
def test_every_right_answer_is_marked_right_as_it_would_be_typed(prompts):
    for prompt in prompts:
        for answer in prompt.right_answers:
            typed = " and ".join(map(str, answer)) if isinstance(answer, tuple) else str(answer)
            assert marks(prompt, typed), (prompt.sentence, typed)


@UNHURRIED
@given(prompt_sets())
def test_every_mistake_is_read_as_itself_and_marked_wrong(prompts):
    for prompt in prompts:
        for wrong in prompt.mistakes.values():
            typed = ", ".join(map(str, wrong)) if isinstance(wrong, tuple) else str(wrong)
            assert read_answer(prompt, typed) == wrong
            assert not marks(prompt, typed)


def test_an_open_question_has_every_pair_right():
    prompt = next(
        prompt
        for seed in range(20)
        for prompt in make_prompts("missing-part", 5, 8, seed)
        if prompt.is_open and prompt.numbers == (5,)
    )
    for typed in ("0 + 5", "5 and 0", "2+3", "three and two", "4,1", "1 4"):
        assert marks(prompt, typed), typed
    for typed in ("2 + 2", "5", "6 + 1", "two"):
        assert not marks(prompt, typed), typed


@pytest.mark.parametrize(
    ("kind", "typed", "read"),
    [
        ("odd-or-even", " Odd ", "odd"),
        ("odd-or-even", "EVEN.", "even"),
        ("comparing-signs", "<", "<"),
        ("comparing-signs", "is less than", "<"),
        ("comparing-signs", "more than", ">"),
        ("comparing-signs", "equal", "="),
        ("comparing-signs", "=", "="),
    ],
)
def test_words_and_signs_are_read_as_one_of_the_choices(kind, typed, read):
    assert read_answer(one(kind), typed) == read


def test_yes_and_letters_may_be_typed_in_any_case():
    yes = one("halves-of-shapes", form="is it half")
    letter = one("halves-of-shapes", form="which one")
    assert read_answer(yes, "Y") == "yes"
    assert read_answer(letter, "b") == "B"


def test_an_order_may_be_typed_with_commas_spaces_or_signs():
    prompt = one("ordering")
    numbers = list(map(str, prompt.answer))
    for between in (", ", " ", " < ", "<", " then "):
        assert marks(prompt, between.join(numbers))


@pytest.mark.parametrize(
    "typed", ["twenty-ten", "Twenty ten", "twentyten", "20 10", "2010", "20-10"]
)
def test_twenty_ten_is_read_however_it_is_written(typed):
    prompt = next(
        prompt
        for prompt in make_prompts("counting-on-in-ones", 50, 10, 1, depth="challenge")
        if prompt.answer == 30
    )
    assert read_answer(prompt, typed) == prompt.mistakes["said twenty-ten"] == "twenty-ten"

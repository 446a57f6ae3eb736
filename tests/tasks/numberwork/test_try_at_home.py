"""What right looks like: each kind shows a good try and a slip that it can tell apart itself."""

import pytest

from tasks.numberwork import DEPTHS, KINDS, describe
from tasks.numberwork.kind import Ask
from tasks.numberwork.try_at_home import TRIES
from tests.reading_age import grade
from tests.tasks.numberwork.pictures.svg_reading import read

LONGEST = 90  # letters of a sentence or two
BLAME_OR_PRAISE = ("silly", "careless", "clever", "lazy", "bad", "failed", "should have")


def asks_about(kind: str, fact: str) -> list[Ask]:
    """List the asks of *kind* about *fact*, at any depth and range."""
    ranges = KINDS[kind].ranges
    return [
        ask
        for depth in DEPTHS
        for within in ranges[: max(2, len(ranges) // 2)]
        for ask in KINDS[kind].asks(within, depth)
        if ask.fact == fact
    ]


def test_every_kind_has_its_tries_and_no_other_has():
    assert set(TRIES) == set(KINDS)


@pytest.mark.parametrize("name", KINDS)
def test_the_good_try_is_right_and_the_slip_is_the_mistake_it_is_called(name: str):
    tries = TRIES[name]
    fitting = [
        ask
        for ask in asks_about(name, tries.fact)
        if ask.answer == tries.good.answer and ask.mistakes.get(tries.mistake) == tries.slip.answer
    ]
    assert fitting, [(ask.answer, dict(ask.mistakes)) for ask in asks_about(name, tries.fact)]
    assert tries.mistake in KINDS[name].mistakes


@pytest.mark.parametrize("name", KINDS)
def test_both_tries_are_drawn_and_told_and_differ_in_picture_or_answer(name: str):
    tries = TRIES[name]
    for each in (tries.good, tries.slip):
        assert read(each.picture).tag.endswith("svg")
        assert describe(each.picture)
    assert tries.good.words != tries.slip.words
    assert (tries.good.picture, tries.good.answer) != (tries.slip.picture, tries.slip.answer)


@pytest.mark.parametrize("name", KINDS)
def test_the_words_are_short_easy_and_blame_nobody(name: str):
    tries = TRIES[name]
    for words in (tries.good.words, tries.slip.words, tries.help):
        assert len(words) <= LONGEST, words
        assert not any(word in words.casefold() for word in BLAME_OR_PRAISE)
    assert grade(f"{tries.good.words} {tries.slip.words} {tries.help}") <= 5


def test_halving_shows_two_equal_plates_against_five_and_three():
    tries = TRIES["halving"]
    assert (tries.good.picture.groups, tries.slip.picture.groups) == ((4, 4), (5, 3))

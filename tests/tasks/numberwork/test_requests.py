"""Each kind has one exact thing to show, in few plain sentences."""

import pytest

from tasks.numberwork import EVERY_KIND, make_prompts, phrase
from tasks.numberwork.showing.requests import (
    NUMBER,
    REQUESTS,
    number_to_put_out,
    request_of,
    request_phrases,
)
from tests.reading_age import grade


@pytest.mark.parametrize(
    ("kind", "medium", "word"),
    [
        ("counting-amounts", "clip", "touch"),
        ("counting-aloud-in-ones", "voice", "count aloud"),
        ("number-of-the-day", "photo", "exactly"),
        ("number-bonds", "photo", "another way"),
        ("matching", "photo", "one to one"),
        ("number-stories", "voice", "tell the story"),
        ("comparing", "voice", "how do you know"),
        ("number-formation", "photo", "write it"),
        ("sharing-equally", "photo", "share things out fairly"),
    ],
)
def test_a_kind_asks_for_what_shows_it(kind, medium, word):
    assert request_of(kind).medium == medium
    assert word in request_of(kind).words


def test_requests_are_of_kinds_that_are_there():
    assert REQUESTS.keys() <= EVERY_KIND.keys()


def test_the_sentences_are_few_plain_and_ask_for_one_thing_to_send():
    sentences = list(request_phrases())
    assert len(sentences) <= 10
    for words in sentences:
        assert grade(words) <= 4, words
        sent = [verb for verb in ("Take a photo", "Record", "Film") if verb in words]
        assert len(sent) == 1, words


@pytest.mark.parametrize("language", ["cy", "pl", "ro", "uk", "ur", "ar"])
def test_a_sentence_with_a_number_keeps_its_place_in_every_language(language):
    for words in request_phrases():
        assert phrase(words, language).count(NUMBER) == words.count(NUMBER)


def test_the_number_to_put_out_is_that_of_the_day_and_no_answer():
    for seed in range(8):
        prompts = list(make_prompts("number-of-the-day", 10, 4, seed))
        number = number_to_put_out(prompts)
        assert {prompt.numbers[0] for prompt in prompts} == {number}
    assert number_to_put_out([]) is None
    asked = [kind for kind in EVERY_KIND if NUMBER in request_of(kind).words]
    assert set(asked) == {"count-out", "number-of-the-day", "number-of-the-day-shown"}

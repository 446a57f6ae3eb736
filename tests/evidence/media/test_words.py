"""A refusal is told in words a parent can act on."""

import re

import pytest

from evidence.media import LIMITS, RefusalReason, refusal_words


@pytest.mark.parametrize("reason", RefusalReason)
def test_every_refusal_says_what_is_wrong_and_what_to_do(reason):
    sentences = re.findall(r"[^.]+\.", refusal_words(reason))

    assert len(sentences) >= 2
    assert all(len(sentence.split()) <= 16 for sentence in sentences)


def test_the_numbers_families_read_are_the_numbers_that_hold():
    assert f"longer than {LIMITS.seconds // 60} minutes" in refusal_words(RefusalReason.TOO_LONG)
    assert LIMITS.seconds % 60 == 0
    assert f"more than {LIMITS.pages} pages" in refusal_words(RefusalReason.TOO_MANY_PAGES)

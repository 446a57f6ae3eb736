"""Statements written with markup."""

import pytest

from assessment.frameworks.plaintext import plain_text


@pytest.mark.parametrize(
    ("markup", "words"),
    [
        ("<p>Count <em>on</em>.</p><p>Count back.</p>", "Count on. Count back."),
        ("half of 8<br/>is 4", "half of 8 is 4"),
        ("<style>p{}</style>Add <script>x<y</script>up", "Add up"),
        ("3 < 4, 5>4 &amp; 2 = 2", "3 < 4, 5>4 & 2 = 2"),
        ("if a<n then", "if a<n then"),
        ("knows <n> is a number", "knows <n> is a number"),
        ('<x-y onclick="go()">Count</x-y> <odd a="b">on', "Count on"),
        ("one\u202etwo\x00three", "onetwothree"),
        ("</p></script>Count", "Count"),
        ("<svg/>Count", "Count"),
        ("‘one more than’ – 0–5", "‘one more than’ – 0–5"),
    ],
)
def test_only_the_words_are_kept(markup, words):
    assert plain_text(markup) == words

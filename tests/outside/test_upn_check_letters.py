"""Unique pupil numbers are known by their check letter, so that a roster keeps none.

Source: UK Government Data Standards Catalogue, Unique Pupil Number 2.0 (check letter); the first
three numbers are those of python-stdnum's documentation of the same standard (stdnum.gb.upn).
"""

import pytest

from portal.people.roster_import.numbers import are_upns, is_upn


@pytest.mark.parametrize(
    ("text", "is_one"),
    [
        ("B801200005001", True),
        ("A801200005001", False),
        ("X80120000A001", False),
        ("Q801200005002", True),
        ("P207000016049", True),
        ("Q207000016049", False),  # A widely copied help page works this one out wrongly.
        ("M20700001604A", True),
        ("b801200005001", True),
        ("1001", False),
        ("", False),
    ],
)
def test_a_number_is_a_upn_when_its_check_letter_is_right(text, is_one):
    assert is_upn(text) is is_one


def test_a_column_is_of_upns_when_half_of_it_is():
    assert are_upns(["B801200005001", "Q801200005002", "1003"])
    assert not are_upns(["B801200005001", "1002", "1003"])
    assert not are_upns([])

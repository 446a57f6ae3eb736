"""A picture is described in words from tables: in English as it always was."""

from hypothesis import given

from tasks.numberwork import describe
from tasks.numberwork.pictures import Picture
from tasks.numberwork.pictures.roundtrip import KINDS
from tasks.numberwork.words.describing import TOLD
from tests.tasks.numberwork.pictures.every_picture import pictures


def test_every_kind_of_picture_can_be_told():
    assert set(TOLD) == set(KINDS.values())


@given(pictures)
def test_the_english_table_says_what_the_picture_says_of_itself(picture: Picture):
    assert describe(picture) == picture.alt

"""The number words for families: each with a picture, a plain sentence and a button to hear it."""

import gzip
import re

import pytest
from django.urls import reverse

from tasks.cards.glossary import BY_KEY, GLOSSARY, WORDS_OF_KINDS
from tasks.numberwork import KINDS
from tasks.plans.prompt_selection import Choice
from tests.reading_age import grade
from tests.tasks.builders import drafted, gone_out, queries_of
from tests.village import Village

PAGE = reverse("tasks:number-words")
ROOM_FOR_THE_PAGE = 40_000  # bytes, packed
# What a card or a picture may say and a family may never have heard; common practice, no source.
WANTED = (
    *("add", "altogether", "number bonds", "count on", "difference", "digit", "double", "equal"),
    *("fewer", "half", "halve", "less", "more", "number line", "number sentence", "odd", "even"),
    *("one more", "part and whole", "share equally", "see how many at once", "take away"),
    *("tally", "ten frame", "teen number"),
)


def read(client) -> str:
    response = client.get(PAGE)
    assert response.status_code == 200
    return response.content.decode()


def test_no_word_that_a_card_uses_is_missing():
    assert set(WANTED) <= {str(each.word) for each in GLOSSARY}


def test_each_word_has_its_picture_its_sentence_and_can_be_heard(village: Village, signed_in):
    page = read(signed_in("family"))

    for each in GLOSSARY:
        assert f'id="{each.key}"' in page
        assert each.picture.svg() in page
        assert f">{each.sentence}</p>" in page
        assert f'data-speak="{each.word}. {each.sentence}"' in page
    assert len(BY_KEY) == len(GLOSSARY)


def test_the_words_stand_by_the_alphabet(village: Village, signed_in):
    titles = re.findall(r'-title">([^<]+)</h2>', read(signed_in("family")))

    assert titles == sorted(titles)
    assert len(titles) == len(GLOSSARY)


@pytest.mark.parametrize("each", GLOSSARY, ids=lambda each: each.key)
def test_each_sentence_is_short_and_easy(each):
    assert len(str(each.sentence)) <= 70
    assert grade(str(each.sentence)) <= 5


def test_every_kind_of_work_names_its_words_and_only_words_there_are():
    assert set(WORDS_OF_KINDS) == set(KINDS)
    assert all(keys and set(keys) <= set(BY_KEY) for keys in WORDS_OF_KINDS.values())


def test_each_card_leads_to_its_words_and_so_does_every_page_of_a_family(
    village: Village, signed_in
):
    gone_out(drafted(village, choice=Choice("halving", 10, 2, "core"), date=village.school.today()))
    card = signed_in("second home").get(reverse("tasks:today")).content.decode()

    for key in WORDS_OF_KINDS["halving"]:
        assert f'href="{PAGE}#{key}"' in card
    assert f'href="{PAGE}"' in signed_in("family").get(reverse("evidence:sent")).content.decode()


def test_the_page_is_light_and_costs_no_more_than_who_reads_it(village: Village, signed_in):
    page = read(signed_in("family")).encode()

    assert len(gzip.compress(page)) <= ROOM_FOR_THE_PAGE
    assert queries_of(signed_in("family"), PAGE) <= 6

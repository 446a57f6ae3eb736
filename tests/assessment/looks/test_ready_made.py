"""What is ready made is read in the family's language, and what a person wrote stays as it is."""

import pytest
from django.urls import reverse
from django.utils import translation

from assessment.insight.weeks import Week
from assessment.looks.ready_made import CHILD, DONE, NEXT_STEPS, STARTERS, filled, said_here
from assessment.models import FamilyWord, Look, WeekSummary
from assessment.weekly.family_words import DRAFT
from assessment.weekly.family_words import said_here as word_here
from portal.translation.languages import offered
from tasks.cards.languages import phrase_in
from tasks.numberwork import KINDS
from tests.assessment.builders import looked, send, set_day
from tests.village import MONDAY

LISTED = [language for language, _name in offered()[1:]]
OWN = (
    "Aisha, come and see me.",
    "You worked that out step by step, Ben. How did you check?",
    "You halved: nearly. Show somebody how you know, Aisha!",
)


@pytest.mark.parametrize("language", LISTED)
@pytest.mark.parametrize("starter", STARTERS)
def test_a_ready_made_reply_is_said_in_every_language_with_the_child_and_the_work(
    village, language: str, starter: str
):
    for kinds, done in (
        (["halving"], "You halved: 6 = 3 + 3"),
        (["can-it-be-halved"], ""),
        ([], ""),
    ):
        with translation.override(language):
            said, lang = said_here(filled(starter, village.aisha, kinds, done), village.aisha)
        assert lang == language
        assert "Aisha" in said and CHILD not in said and DONE not in said
        assert ("6 = 3 + 3" in said) == (DONE in starter and bool(done))
        assert not {"halving", "number", "work", "you", "halved:"} & set(said.lower().split())


@pytest.mark.parametrize("language", LISTED)
def test_next_steps_words_of_the_week_and_titles_are_said_in_every_language(village, language: str):
    titles = [kind.title for kind in KINDS.values()]
    with translation.override(language):
        for step in NEXT_STEPS:
            said, lang = said_here(step, village.aisha)
            assert said != step and lang == language
        said, lang = word_here(DRAFT % {"focus": ", ".join(titles)})
        assert lang == language
        assert not any(title in said for title in titles)
    assert {phrase_in(title, language)[1] for title in titles} == {language}


@pytest.mark.parametrize("words", OWN)
def test_what_a_person_wrote_stays_as_it_was_written(village, words: str):
    with translation.override("pl"):
        assert said_here(words, village.aisha) == (words, "en")
        named = DRAFT % {"focus": "Halving, The farm"}
        assert word_here(named) == (named, "en")
        assert word_here("Well done, all.") == ("Well done, all.", "en")


@pytest.fixture
def at_home(village, signed_in):
    """Return a family that reads Polish, with a reply and a word of the week for it."""
    plan = set_day(village.robins, MONDAY)
    work = looked(send(village.aisha, village.first_home, plan), village.people["teacher"])
    whole = {"school_class": village.robins, "week": MONDAY}
    FamilyWord.objects.create(**whole, child=None, text=DRAFT % {"focus": "Halving"})
    told = {"audience": WeekSummary.Audience.FAMILY, "child": village.aisha, "figures": {}}
    WeekSummary.objects.create(**whole, **told, home=village.first_home)
    village.people["family"].language = "pl"
    village.people["family"].save()

    def page(reply: str, next_step: str) -> str:
        Look.objects.filter(submission=work.submission).update(reply=reply, next_step=next_step)
        address = reverse("assessment:week", args=[Week.of(MONDAY)])
        return signed_in("family").get(address).content.decode()

    return page


def test_a_family_reads_the_ready_made_as_its_page_and_a_teachers_words_as_marked(at_home):
    marked = '<p class="for-child" data-part lang="en" dir="auto" data-part-lang="en">'
    ready = at_home("Thank you, Aisha. Say the number sentence aloud when you do it again.", "")
    assert "Thank you, Aisha" not in ready and marked not in ready
    assert "number work was about" not in ready
    own = at_home("Come and see me, Aisha.", NEXT_STEPS[0])
    assert f"{marked}Come and see me, Aisha.</p>" in own
    assert NEXT_STEPS[0] not in own

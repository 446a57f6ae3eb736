"""The card in a family's own language, as far as number work has words in it."""

from dataclasses import replace

import pytest
from django.urls import reverse
from num2words import num2words

from tasks.cards.languages import base_of, number_words, own_name, said_in
from tasks.models import TaskPrompt
from tasks.numberwork import make_prompts
from tasks.numberwork.words import ENGLISH, LANGUAGES
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, gone_out
from tests.village import Village

TODAY = reverse("tasks:today")


@pytest.fixture
def lithuanian(monkeypatch: pytest.MonkeyPatch) -> None:
    """Give number work a few words of a language that the portal is not offered in."""
    words = replace(
        ENGLISH,
        language="lt",
        spoken={f"doubling/{form}": "Kiek yra du kartus {0}?" for form in FORMS},
        phrases={},
    )
    monkeypatch.setitem(LANGUAGES, "lt", words)


FORMS = ("double", "add the same", "equals first", "unknown")


def card_in(village: Village, signed_in, language: str) -> str:
    """Return today's card as the second home reads it, in its language."""
    plan = gone_out(drafted(village, date=village.school.today()))
    assert plan.tasks.get().kind == "doubling"
    reader = village.people["second home"]
    reader.language = language
    reader.save()
    response = signed_in("second home").get(TODAY)
    assert response.status_code == 200
    return response.content.decode()


def test_prompts_are_said_in_the_familys_language_where_there_are_words(
    village: Village, signed_in, lithuanian
):
    page = card_in(village, signed_in, "lt-lt")

    assert page.count('data-part="Kiek yra du kartus') == 3
    assert page.count('data-part-lang="lt"') == 3
    assert 'data-speak="Kiek yra du kartus' in page
    assert page.count('<p lang="lt" dir="auto"><q>Kiek yra du kartus') == 3


def test_where_a_language_has_no_words_yet_the_english_ones_stay(village: Village, signed_in):
    page = card_in(village, signed_in, "lt")

    assert "data-part-lang" not in page
    assert all(f'data-part="{row.spoken}"' in page for row in TaskPrompt.objects.all())


def test_numbers_stand_in_words_of_the_familys_language_for_the_grown_up(
    village: Village, signed_in
):
    page = card_in(village, signed_in, "lt")

    numbers = page[page.index('class="card-numbers"') :]
    assert "Lietuviškai" in numbers
    assert '<span lang="lt">' in numbers
    for row in TaskPrompt.objects.all():
        answer = row.prompt.answer
        assert f"{answer} {num2words(answer, lang='lt')}" in numbers


@pytest.mark.parametrize("language", ["en-gb", "en", "ur", "xx"])
def test_no_words_are_shown_for_english_or_a_language_without_any(
    village: Village, signed_in, language: str
):
    assert "card-numbers" not in card_in(village, signed_in, language)


@pytest.mark.parametrize("language", ["es", "pt", "tr", "lt", "cs"])
def test_every_number_of_a_prompt_and_its_answer_has_its_word(language: str):
    prompts = list(make_prompts("ordering", 20, 2, 3))

    said = dict(number_words(prompts, language))

    wanted = {number for prompt in prompts for number in (*prompt.numbers, *prompt.answer)}
    assert set(said) == wanted
    assert all(said[number] == num2words(number, lang=language) for number in wanted)


def test_answers_that_are_no_numbers_have_no_number_words():
    prompts = list(make_prompts("odd-or-even", 10, 3, 1))

    assert all(isinstance(number, int) for number, _word in number_words(prompts, "lt"))


def test_a_language_is_known_by_its_base_and_its_own_name():
    assert [base_of(code) for code in ("en-gb", "PL_pl", "pt-br", "")] == ["en", "pl", "pt", "en"]
    assert (own_name("pl"), own_name("xx")) == ("polski", "xx")


def test_every_kind_is_said_in_english_as_it_was_set():
    prompt = make_prompts("halving", 10, 1, 1)[0]

    for language in ("en", "xx"):
        said = said_in(prompt, language)
        assert (said.sentence, said.spoken, said.lang) == (prompt.sentence, prompt.spoken, "en")


def test_the_card_says_one_thing_to_use_at_home_and_reads_it_aloud(village: Village, signed_in):
    choice = Choice("doubling", 10, 2, "core")
    plan = gone_out(drafted(village, "try_at_home", choice=choice, date=village.school.today()))
    task = plan.tasks.get()

    page = signed_in("second home").get(TODAY).content.decode()

    assert f'<dd class="for-child" data-part>{task.fetch}</dd>' in page
    assert ", or " not in task.fetch

"""The teacher's page on each kind: forms, depths, mistakes, what to set next."""

import pytest
from django.urls import reverse
from django.utils.html import escape

from assessment.goals.goal_sets import load_frameworks
from tasks.cards.kind_sheets import kind_sheet
from tasks.numberwork import DEPTHS, KINDS, ROUTES
from tests.tasks.builders import queries_of
from tests.village import Village


@pytest.mark.parametrize("name", sorted(KINDS))
def test_the_page_of_every_kind_says_all_there_is_to_know_of_it(
    village: Village, signed_in, name: str
):
    kind = KINDS[name]

    page = signed_in("teacher").get(reverse("tasks:kind", args=[name])).content.decode()

    said = [kind.practises, kind.say, kind.right, *kind.forms.values(), *kind.depths.values()]
    said += [*kind.mistakes.values(), *(KINDS[step.kind].title for step in ROUTES[name].steps)]
    assert [words for words in said if escape(words) not in page] == []


@pytest.mark.parametrize("name", sorted(KINDS))
def test_each_depth_is_shown_by_a_prompt_of_that_depth_with_its_picture(name: str):
    sheet = kind_sheet(name)

    assert len(sheet.depths) == len(DEPTHS)
    assert all(depth.example.sentence and depth.words for depth in sheet.depths)
    assert any(depth.example.picture for depth in sheet.depths) or name in WITHOUT_PICTURES


WITHOUT_PICTURES = {name for name in KINDS if name.startswith("counting-")} | {"story-problems"}


def test_a_mistake_is_shown_by_an_answer_it_leads_to():
    shown = {each.sentence: each.example for each in kind_sheet("halving").mistakes}

    example = shown["Said double instead of half"]
    whole, _equals, said = example.removeprefix("half of ").partition(" = ")
    assert int(said) == 2 * int(whole)


def test_a_mistake_is_shown_with_a_picture_and_with_what_to_do_next():
    shown = {each.sentence: each for each in kind_sheet("halving").mistakes}
    doubled = shown["Said double instead of half"]

    assert doubled.picture.startswith("<svg")
    assert "two plates" in doubled.next_step


def test_the_page_names_the_goals_of_the_class_that_the_kind_gives_evidence_of(
    village: Village, signed_in
):
    load_frameworks()
    page = signed_in("teacher").get(reverse("tasks:kind", args=["halving"])).content.decode()

    assert "distributed equally" in page
    assert "Verbally count beyond 20" not in page


def test_what_comes_next_is_what_builds_on_it():
    assert {kind.name for kind in kind_sheet("halving").onward} == {
        "halving-number-sentence",
        "can-it-be-halved",
    }
    assert [kind.name for kind in kind_sheet("halving").before] == [
        "doubling",
        "number-bonds",
        "adding",
    ]


def test_from_a_kind_a_teacher_plans_a_sequence_for_own_classes_only(village: Village, signed_in):
    address = reverse("tasks:kind", args=["halving"])
    robins, wrens = (
        reverse("tasks:sequence-new", args=[each.pk]) for each in (village.robins, village.wrens)
    )

    page = signed_in("teacher").get(address).content.decode()
    assistants = signed_in("assistant").get(address).content.decode()

    assert f"{robins}?focus=halving" in page
    assert wrens not in page
    assert robins not in assistants


def test_the_list_leads_to_every_kind(village: Village, signed_in):
    page = signed_in("assistant").get(reverse("tasks:kinds")).content.decode()

    assert all(reverse("tasks:kind", args=[name]) in page for name in KINDS)


def test_a_kind_that_there_is_not_is_not_found(village: Village, signed_in):
    assert signed_in("teacher").get(reverse("tasks:kind", args=["fractions"])).status_code == 404


def test_the_pages_on_kinds_cost_the_same_queries_whatever_the_kind(village: Village, signed_in):
    teacher = signed_in("teacher")
    pages = [reverse("tasks:kind", args=[name]) for name in KINDS]
    teacher.get(pages[0])

    assert len({queries_of(teacher, page) for page in pages}) == 1

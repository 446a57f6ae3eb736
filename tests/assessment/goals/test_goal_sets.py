"""The shipped goals as rows, and which of them a piece of work suggests."""

import dataclasses
from io import StringIO

import pytest
from django.core.management import call_command

from assessment import frameworks
from assessment.goals import goal_sets
from assessment.models import ClassFramework, Framework, Goal

pytestmark = pytest.mark.django_db


def test_loading_twice_changes_nothing():
    call_command("load_frameworks", stdout=StringIO())
    before = list(Goal.objects.order_by("pk").values())
    call_command("load_frameworks", stdout=StringIO())
    assert list(Goal.objects.order_by("pk").values()) == before
    assert Framework.objects.count() == len(frameworks.all_frameworks())


def test_changed_words_are_changed_and_vanished_goals_are_put_away():
    given = frameworks.framework_by_id(frameworks.DEFAULT)
    row = goal_sets.keep_framework(given)
    first = dataclasses.replace(given.goals[0], text="Have a deep understanding of numbers to 10;")
    goal_sets.keep_framework(dataclasses.replace(given, goals=(first, *given.goals[1:-1])))
    assert row.goals.get(code=first.code).text == first.text
    assert row.goals.get(code=given.goals[-1].code).retired_at is not None
    assert row.goals.in_use().count() == len(given.goals) - 1


def test_a_goal_that_comes_back_is_in_use_again():
    given = frameworks.framework_by_id(frameworks.DEFAULT)
    goal_sets.keep_framework(
        dataclasses.replace(given, goals=given.goals[:3], strands=given.strands[:1])
    )
    row = goal_sets.keep_framework(given)
    assert row.goals.in_use().count() == len(given.goals)


def test_a_class_has_the_early_learning_goals_unless_it_chose_others(village):
    assert goal_sets.framework_of(village.robins).slug == "eyfs-elg-2021"
    own = Framework.objects.create(slug="ours", school=village.school, title="Ours")
    ClassFramework.objects.create(school_class=village.robins, framework=own)
    assert goal_sets.framework_of(village.robins) == own
    assert goal_sets.framework_of(village.wrens).slug == "eyfs-elg-2021"


def test_halving_suggests_first_the_goal_about_sharing_equally():
    row = goal_sets.default_framework()
    found = frameworks.goals_for_kinds(row.goals.in_use(), ["halving", "one-more"])
    assert found[0].code == "ELG-NP-3"
    assert "ELG-NUM-2" not in [goal.code for goal in found]


def test_work_of_no_known_kind_suggests_nothing():
    row = goal_sets.default_framework()
    assert frameworks.goals_for_kinds(row.goals.in_use(), ["knitting"]) == ()

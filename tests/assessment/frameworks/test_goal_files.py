"""The goal files that ship, and the reader that refuses a broken one."""

import json
import re

import pytest

from assessment.frameworks import (
    DEFAULT,
    FROM_MEMORY,
    Framework,
    FrameworkError,
    Goal,
    Strand,
    all_frameworks,
    framework_by_id,
    goals_for_kinds,
    load_framework,
)
from assessment.frameworks.files import FOLDER
from assessment.frameworks.kinds import KINDS
from tasks import numberwork

EVERY = pytest.mark.parametrize("framework", all_frameworks(), ids=lambda one: one.id)


def goal_file(tmp_path, **changes):
    data = {
        **dict.fromkeys(("id", "title", "publisher", "edition", "source"), "x"),
        **dict.fromkeys(("licence", "notice", "stem"), ""),
        "goals": [{"code": "A1", "strand": "Number", "text": "Count.", "kinds": ["subitising"]}],
    }
    path = tmp_path / "goals.json"
    path.write_text(json.dumps({**data, **changes}), encoding="utf-8")
    return path


def test_the_early_learning_goals_in_force_come_first():
    assert all_frameworks()[0].id == DEFAULT == "eyfs-elg-2021"


@EVERY
def test_no_statement_on_number_is_left_without_a_kind(framework):
    for goal in framework.goals:
        assert goal.kinds or "number" in goal.why, goal.code


def test_only_statements_on_measures_and_shapes_have_no_kind():
    without = {
        goal.code for framework in all_frameworks() for goal in framework.goals if not goal.kinds
    }
    assert without == {"ELG 12.3", "DM-R-10", "DM-R-11", "DM-R-12"}


@EVERY
def test_a_goal_names_only_kinds_that_can_be_set_and_each_once(framework):
    for goal in framework.goals:
        assert set(goal.kinds) <= set(KINDS)
        assert len(set(goal.kinds)) == len(goal.kinds)


# Each title's claim, and how many statements the publication has of that. Counted on published
# copies; for Head Start from memory.
CLAIMED = {
    "eyfs-elg-2021": ("both goals", 6),
    "eyfs-elg-2012": ("both goals", 6),
    "development-matters-reception": ("all twelve statements", 12),
    "development-matters-3-4": ("the nine statements about number alone", 9),
    "us-common-core-k": ("counting, operations and base ten", 16),
    "us-head-start-2015": ("goals 1 to 7", 7),
    "au-v9-foundation": ("Number (all six content descriptions)", 6),
    "scotland-early": ("the four statements about number", 4),
}


@EVERY
def test_a_set_holds_all_that_its_title_claims_and_the_title_says_what_that_is(framework):
    words, statements = CLAIMED[framework.id]
    assert words in framework.title
    assert len(framework.goals) == statements


@EVERY
def test_every_set_is_dated(framework):
    assert re.search(r"\b20[012]\d\b", framework.edition)


@EVERY
def test_a_statement_from_memory_is_marked_as_such_and_so_is_the_source(framework):
    marked = [goal.code for goal in framework.goals if goal.note.startswith(FROM_MEMORY)]
    assert bool(marked) == ("from memory" in framework.source)
    assert all("memory" not in goal.note or goal.code in marked for goal in framework.goals)


@EVERY
def test_every_framework_says_whose_it_is_and_what_may_be_done_with_it(framework):
    assert framework.publisher and framework.edition and framework.source and framework.licence


def test_a_file_is_named_for_the_framework_it_holds():
    assert {path.stem for path in FOLDER.glob("*.json")} == {one.id for one in all_frameworks()}


def test_a_judgement_is_about_a_whole_early_learning_goal_not_one_of_its_statements():
    units = framework_by_id(DEFAULT).judged_units()
    assert units == (
        Strand("FSP_MAT_E11", "Number"),
        Strand("FSP_MAT_E12", "Numerical Patterns"),
    )


def test_where_no_whole_is_judged_each_goal_is():
    units = framework_by_id("scotland-early").judged_units()
    assert [unit.code for unit in units] == ["MNU 0-01a", "MNU 0-02a", "MNU 0-03a", "MNU 0-07a"]


def test_each_early_learning_goal_holds_its_three_statements():
    framework = framework_by_id(DEFAULT)
    assert [goal.code[-1] for goal in framework.in_strand("Number")] == ["1", "2", "3"]
    assert [goal.code[-1] for goal in framework.in_strand("Numerical Patterns")] == ["1", "2", "3"]


@pytest.mark.parametrize(
    ("kinds", "codes"),
    [
        (["subitising"], ["ELG-NUM-2"]),
        (["number-bonds"], ["ELG-NUM-3", "ELG-NUM-1"]),
        (["halving", "doubling"], ["ELG-NP-3", "ELG-NUM-3"]),
        (["halves-of-shapes"], []),
        (["no-such-kind"], []),
        ([], []),
    ],
)
def test_the_goal_a_piece_of_work_shows_best_is_suggested_first(kinds, codes):
    found = goals_for_kinds(framework_by_id(DEFAULT).goals, kinds)
    assert [goal.code for goal in found] == codes


def test_every_goal_is_suggested_for_each_kind_it_names():
    for framework in all_frameworks():
        for goal in framework.goals:
            for kind in goal.kinds:
                assert goal in goals_for_kinds(framework.goals, [kind])


def test_a_goal_can_be_looked_up_by_its_code():
    framework = framework_by_id(DEFAULT)
    assert (
        framework.goal("ELG-NUM-2").label
        == "Subitise (recognise quantities without counting) up to 5"
    )
    with pytest.raises(KeyError):
        framework.goal("ELG-NUM-9")
    with pytest.raises(KeyError):
        framework_by_id("nowhere")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"goals": "none"}, "goals: missing"),
        ({"goals": []}, "there are 0"),
        ({"publisher": 3}, "publisher: missing"),
        ({"judged_by": "guess"}, "strand or goal"),
        ({"title": " "}, "id, title: empty"),
        ({"strands": [{"code": "S"}]}, "title: missing"),
        ({"strands": [{"code": "S", "title": "Shape"}]}, "titled “Number”"),
        ({"goals": [{"code": "A", "strand": "N", "text": "Count."}]}, "does not say why"),
        ({"goals": [{"code": "A", "strand": "N", "text": "C", "kinds": ["sums"]}]}, "sums"),
    ],
)
def test_a_broken_goal_file_is_refused_by_name_with_the_field(tmp_path, changes, words):
    with pytest.raises(FrameworkError, match=r"goals\.json: ") as refusal:
        load_framework(goal_file(tmp_path, **changes))
    assert words in str(refusal.value)


def test_a_goal_file_that_is_no_json_is_refused_by_name(tmp_path):
    path = tmp_path / "goals.json"
    path.write_text("{", encoding="utf-8")
    with pytest.raises(FrameworkError, match=r"goals\.json: cannot be read"):
        load_framework(path)


def test_two_goals_with_one_code_are_refused():
    pair = (Goal("A1", "Number", "Count."), Goal("A1", "Number", "Count on."))
    with pytest.raises(FrameworkError, match="A1 stands 2 times"):
        Framework("x", "x", "", "", "", "", "", "", (), "goal", (Strand("N", "Number"),), pair)


@pytest.mark.parametrize(("code", "text"), [(" ", "Count."), ("A1", ""), ("A1", "n" * 4001)])
def test_a_goal_without_code_or_with_an_absurd_text_is_refused(code, text):
    with pytest.raises(FrameworkError):
        Goal(code, "Number", text)


def test_the_kinds_a_goal_may_name_are_those_that_can_be_set():
    assert set(KINDS) == set(numberwork.KINDS)

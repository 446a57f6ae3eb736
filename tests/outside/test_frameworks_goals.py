"""The goals as published, counted and word for word."""

import json
import os
from pathlib import Path

import pytest

from assessment.frameworks import all_frameworks, framework_by_id, goals_for_kinds
from assessment.frameworks.profile import (
    ALL_COLUMNS,
    AREAS,
    GOOD_LEVEL_COLUMNS,
    good_level,
)

HERE = Path(__file__).resolve().parents[2]
REFERENCE = Path(
    os.environ.get("SHARED_REFERENCE", HERE.parent / "shared" / "reference" / "goals.json")
)

# Source: statutory framework for the early years foundation stage, early learning goals for
# mathematics in force from September 2021, as five published school copies print them.
STATUTORY = {
    "Number": [
        "Have a deep understanding of number to 10, including the composition of each number;",
        "Subitise (recognise quantities without counting) up to 5;",
        "Automatically recall (without reference to rhymes, counting or other aids) number bonds "
        "up to 5 (including subtraction facts) and some number bonds to 10, including double "
        "facts.",
    ],
    "Numerical Patterns": [
        "Verbally count beyond 20, recognising the pattern of the counting system;",
        "Compare quantities up to 10 in different contexts, recognising when one quantity is "
        "greater than, less than or the same as the other quantity;",
        "Explore and represent patterns within numbers up to 10, including evens and odds, double "
        "facts and how quantities can be distributed equally.",
    ],
}

# Source: Development Matters, children in Reception, as two published school copies print it that
# agree. Not in the collection, which holds statements on number.
SHAPES_IN_RECEPTION = {
    (
        "DM-R-11",
        "Shape",
        "Select, rotate and manipulate shapes to develop spatial reasoning skills.",
    ),
    (
        "DM-R-12",
        "Shape",
        "Compose and decompose shapes so that children recognise a shape can have other shapes "
        "within it, just as numbers can.",
    ),
}


def test_the_six_statements_of_the_early_learning_goals_stand_word_for_word():
    """Source: the statutory framework, see STATUTORY."""
    framework = framework_by_id("eyfs-elg-2021")
    assert framework.stem == "Children at the expected level of development will:"
    for strand, sentences in STATUTORY.items():
        assert [goal.text for goal in framework.in_strand(strand)] == sentences


def test_every_goal_of_every_framework_is_as_published():
    """Source: the project's collection of published goals, where it is at hand.

    Without the collection the counts of the publishers are held instead, so the check
    never passes empty.
    """
    if REFERENCE.exists():
        published = {
            (goal["code"], goal["strand"], goal["text"])
            for framework in json.loads(REFERENCE.read_text(encoding="utf-8"))
            for goal in framework["goals"]
        }
        ours = {
            (goal.code, goal.strand, goal.text)
            for framework in all_frameworks()
            for goal in framework.goals
        }
        assert ours - published == SHAPES_IN_RECEPTION
        assert published <= ours
    counts = {framework.id: len(framework.goals) for framework in all_frameworks()}
    assert counts == {
        "eyfs-elg-2021": 6,
        "eyfs-elg-2012": 6,
        "development-matters-reception": 12,
        "development-matters-3-4": 9,
        "us-common-core-k": 16,
        "us-head-start-2015": 7,
        "au-v9-foundation": 6,
        "scotland-early": 4,
    }


def test_kindergarten_has_ten_counting_five_operations_and_one_base_ten_standard():
    """Source: Common Core State Standards for Mathematics (2010), Kindergarten."""
    codes = [goal.code for goal in framework_by_id("us-common-core-k").goals]
    domains = [code.split(".")[1] for code in codes]
    assert [domains.count(domain) for domain in ("CC", "OA", "NBT")] == [10, 5, 1]


def test_the_kindergarten_standards_carry_the_identifiers_and_notice_of_their_publisher():
    """Source: machine-readable Common Core file of 2012, where K.CC.1 has this GUID."""
    framework = framework_by_id("us-common-core-k")
    identifier = framework.goal("K.CC.A.1").identifier
    assert identifier.replace("-", "").upper() == "CA9EE2E34F384E95A5FA26769C5864B8"
    assert framework.notice.startswith("© Copyright 2010. National Governors Association")


@pytest.mark.parametrize("kind", ["number-formation", "halves-of-shapes", "repeating-patterns"])
def test_work_the_early_learning_goals_do_not_ask_for_suggests_none_of_them(kind):
    """Source: the statutory framework; its goals never ask for writing numerals or for shapes."""
    assert goals_for_kinds(framework_by_id("eyfs-elg-2021").goals, [kind]) == ()


def test_the_levels_are_emerging_and_expected_since_2021_with_exceeding_before():
    """Source: Buckinghamshire early years guidance on the Profile ("exceeding" was removed)."""
    assert framework_by_id("eyfs-elg-2021").levels == ("emerging", "expected")
    assert framework_by_id("eyfs-elg-2012").levels == ("emerging", "expected", "exceeding")


def test_there_are_seventeen_goals_in_seven_areas():
    """Source: EYFS Profile results methodology, explore-education-statistics."""
    assert len(AREAS) == 7
    assert [column[-2:] for column in ALL_COLUMNS] == [f"{n:02}" for n in range(1, 18)]


def test_a_good_level_of_development_is_the_twelve_goals_e01_to_e12():
    """Source: EYFS Profile results methodology: 12 goals in 5 areas, mathematics among them."""
    assert [column[-3:] for column in GOOD_LEVEL_COLUMNS] == [f"E{n:02}" for n in range(1, 13)]
    strands = framework_by_id("eyfs-elg-2021").strands
    assert tuple(strand.code for strand in strands) == AREAS["mathematics"]


def test_a_good_level_needs_all_twelve_and_waits_for_those_not_judged():
    """Source: EYFS Profile results methodology: expected in all of the twelve."""
    expected = dict.fromkeys(GOOD_LEVEL_COLUMNS, "expected")
    assert good_level(expected) is True
    assert good_level({**expected, "FSP_EXP_E17": "emerging"}) is True
    assert good_level({**expected, "FSP_MAT_E11": "emerging"}) is False
    del expected["FSP_MAT_E12"]
    assert good_level(expected) is None
    with pytest.raises(ValueError, match="not exceeding"):
        good_level({"FSP_MAT_E11": "exceeding"})

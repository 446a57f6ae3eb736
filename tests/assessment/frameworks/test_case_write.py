"""Goal lists handed on to other systems."""

import json
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from assessment.frameworks import (
    FrameworkError,
    all_frameworks,
    framework_by_id,
    read_case,
    write_case,
)
from assessment.frameworks.showing.asked import Asked

CHANGED = datetime(2024, 9, 1, 8, tzinfo=UTC)
EVERY = pytest.mark.parametrize("framework", all_frameworks(), ids=lambda one: one.id)


@EVERY
def test_a_framework_that_travels_comes_back_the_same(framework):
    back = read_case(json.dumps(write_case(framework, CHANGED)))
    same = [replace(goal, identifier="") for goal in framework.goals]
    assert [replace(goal, identifier="") for goal in back.goals] == same
    assert replace(back, id=framework.id, goals=framework.goals) == framework


def test_what_a_goal_asks_of_work_travels_both_ways():
    written = write_case(framework_by_id("eyfs-elg-2021"), CHANGED)
    counting = next(item for item in written["CFItems"] if item["humanCodingScheme"] == "ELG-NP-1")
    assert counting["extensions"]["asks"]["heard_to"] == 21
    back = read_case(json.dumps(written)).goal("ELG-NP-1")
    assert back.asks == framework_by_id("eyfs-elg-2021").goal("ELG-NP-1").asks != Asked()


@pytest.mark.parametrize(
    ("asks", "words"),
    [
        ({"reach": "far"}, r"CFItems\[\d+\].extensions.asks: reach"),
        ({"shown_by": ["moons"]}, "moons"),
        ({"smelt": True}, "smelt is no part"),
    ],
)
def test_what_a_goal_asks_and_cannot_be_read_is_refused_by_its_place(asks, words):
    written = write_case(framework_by_id("eyfs-elg-2021"), CHANGED)
    written["CFItems"][-1]["extensions"]["asks"] = asks
    with pytest.raises(FrameworkError, match=words):
        read_case(written)


def test_an_extension_of_that_name_that_is_somebody_elses_is_passed_over():
    written = write_case(framework_by_id("eyfs-elg-2021"), CHANGED)
    written["CFItems"][-1]["extensions"]["asks"] = "a question to ask"
    assert read_case(written).goals[-1].asks == Asked()


@EVERY
def test_two_exports_agree_so_that_nothing_is_imported_twice(framework):
    first = write_case(framework, CHANGED)
    assert write_case(framework, CHANGED) == first
    assert (
        write_case(read_case(first), CHANGED)["CFItems"][-1]["identifier"]
        == (first["CFItems"][-1]["identifier"])
    )


def test_a_publishers_own_identifier_is_kept():
    kindergarten = next(one for one in all_frameworks() if one.id == "us-common-core-k")
    written = {item["identifier"] for item in write_case(kindergarten, CHANGED)["CFItems"]}
    assert {goal.identifier for goal in kindergarten.goals} <= written


def test_a_moment_without_a_time_zone_is_refused():
    with pytest.raises(ValueError, match="aware"):
        write_case(all_frameworks()[0], datetime(2024, 9, 1))  # noqa: DTZ001

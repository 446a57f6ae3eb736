"""Goal lists handed on to other systems."""

import json
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from assessment.frameworks import all_frameworks, read_case, write_case

CHANGED = datetime(2024, 9, 1, 8, tzinfo=UTC)
EVERY = pytest.mark.parametrize("framework", all_frameworks(), ids=lambda one: one.id)


@EVERY
def test_a_framework_that_travels_comes_back_the_same(framework):
    back = read_case(json.dumps(write_case(framework, CHANGED)))
    same = [replace(goal, identifier="") for goal in framework.goals]
    assert [replace(goal, identifier="") for goal in back.goals] == same
    assert replace(back, id=framework.id, goals=framework.goals) == framework


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

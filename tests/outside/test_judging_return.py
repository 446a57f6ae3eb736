"""The table for the school's data manager against the published column names and codes."""

import pytest

from assessment.frameworks.profile import AREAS, GOOD_LEVEL_COLUMNS, good_level
from assessment.goals.goal_sets import framework_of
from assessment.judgements.judgements import About, judge, periods_of, standing_in
from assessment.judgements.returns import CODES, return_columns, return_table
from tests.assessment.builders import goal

# Source: DfE, Early Years Foundation Stage Profile return, result columns as read by the
# Department's own service "Get information about pupils" (EYFSPOutputRecord).
MATHEMATICS = ("FSP_MAT_E11", "FSP_MAT_E12")
SUBJECTS = {"COM": 2, "PSE": 3, "PHY": 2, "LIT": 3, "MAT": 2, "UTW": 3, "EXP": 2}


@pytest.mark.django_db
def test_number_and_numerical_patterns_stand_under_their_published_columns(village):
    """Source: as above; E11 is Number and E12 Numerical Patterns by the order of the goals."""
    goal()
    framework = framework_of(village.robins)
    assert return_columns(framework) == {
        "Number": "FSP_MAT_E11",
        "Numerical Patterns": "FSP_MAT_E12",
    }


@pytest.mark.django_db
def test_decisions_come_out_as_the_published_codes(village):
    """Source: the return's outcome codes, 1 emerging, 2 expected, A not assessed; from memory."""
    goal()
    framework, (period,) = framework_of(village.robins), periods_of(village.robins)
    teacher = village.people["teacher"]
    for child, unit, level in (
        (village.aisha, "Number", "expected"),
        (village.aisha, "Numerical Patterns", "emerging"),
        (village.ben, "Number", "not assessed"),
    ):
        judge(About(child, period, framework, unit), teacher, level, "", 0)
    children = [village.aisha, village.ben]
    standing = standing_in(children, period, framework)
    table = return_table("return", village.robins, framework, children, standing)
    assert tuple(table.headings[-2:]) == MATHEMATICS
    assert [tuple(row[-2:]) for row in table.rows] == [("2", "1"), ("A", "")]


def test_every_level_of_the_framework_has_a_code_and_there_is_no_third():
    """Source: 2021 reforms: emerging and expected; "exceeding" was removed."""
    assert set(CODES) == {"emerging", "expected", "not assessed"}
    assert "3" not in CODES.values()


def test_seventeen_goals_over_seven_areas_number_the_columns():
    """Source: DfE methodology of the Profile statistics: 17 goals, 7 areas of learning."""
    columns = [column for held in AREAS.values() for column in held]
    assert [int(column[-2:]) for column in columns] == list(range(1, 18))
    assert {part: sum(f"_{part}_" in name for name in columns) for part in SUBJECTS} == SUBJECTS


def test_a_good_level_of_development_is_twelve_goals_in_five_areas():
    """Source: DfE methodology: expected in the 12 goals of the prime areas, literacy, maths."""
    assert [int(column[-2:]) for column in GOOD_LEVEL_COLUMNS] == list(range(1, 13))
    every = dict.fromkeys(GOOD_LEVEL_COLUMNS, "expected")
    assert good_level(every) is True
    assert good_level({**every, "FSP_MAT_E12": "emerging"}) is False
    assert good_level(dict.fromkeys(MATHEMATICS, "expected")) is None

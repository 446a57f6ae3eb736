"""For the lead: what is missing, where staff differ, and further periods."""

import datetime as dt

import pytest

from assessment.goals.goal_sets import framework_of
from assessment.judgements.judgements import About, judge, periods_of
from assessment.judgements.lead_overview import overview
from assessment.models import Period
from tests.assessment.builders import goal
from tests.village import make_staff


@pytest.fixture
def period(village):
    """Give the end of the year of the village's school."""
    goal()
    return periods_of(village.robins)[0]


def decide(village, period, child, unit, level, by="teacher", seen=0):
    about = About(child, period, framework_of(village.robins), unit)
    judge(about, village.people[by], level, "", seen)


def of_robins(village, period):
    return next(one for one in overview([village.robins, village.wrens], period))


def test_a_child_with_anything_undecided_is_named_with_what(village, period):
    decide(village, period, village.aisha, "Number", "expected")
    found = {str(one.child): one.units for one in of_robins(village, period).missing}
    assert found == {"Aisha K": ["Numerical Patterns"], "Ben T": ["Number", "Numerical Patterns"]}


def test_nothing_is_missing_when_all_is_decided(village, period):
    for child in (village.aisha, village.ben):
        for unit in ("Number", "Numerical Patterns"):
            decide(village, period, child, unit, "expected")
    assert of_robins(village, period).missing == []


def test_two_people_who_differ_are_shown_until_one_says_the_same(village, period):
    decide(village, period, village.aisha, "Number", "expected")
    decide(village, period, village.aisha, "Number", "emerging", by="lead", seen=1)
    (found,) = of_robins(village, period).differing
    assert [(row.by.name, row.level) for row in found.said] == [
        ("Lead", "emerging"),
        ("Teacher", "expected"),
    ]
    decide(village, period, village.aisha, "Number", "emerging", seen=2)
    assert of_robins(village, period).differing == []


def test_one_person_who_changed_their_mind_does_not_differ(village, period):
    decide(village, period, village.aisha, "Number", "expected")
    decide(village, period, village.aisha, "Number", "emerging", seen=1)
    assert of_robins(village, period).differing == []


def test_the_lead_reads_it_and_nobody_else(village, signed_in, period):
    decide(village, period, village.aisha, "Number", "expected")
    html = signed_in("lead").get("/school/judgements/").content.decode()
    assert "Not all is decided for 2 children" in html
    assert "%" not in html.split("<main")[1]
    for role in ("teacher", "assistant", "office", "family"):
        assert signed_in(role).get("/school/judgements/").status_code == 404


def test_a_lead_of_two_schools_worth_reads_the_own_alone(village, signed_in, period):
    assert "Robins" not in signed_in("foreign lead").get("/school/judgements/").content.decode()


def test_a_lead_adds_a_period_within_the_year(village, signed_in, period):
    client = signed_in("lead")
    year = village.robins.year
    data = {"year": year.pk, "name": "Autumn", "ends": "2026-12-18"}
    assert client.post("/school/judgements/", data).status_code == 302
    assert Period.objects.get(name="Autumn").ends == dt.date(2026, 12, 18)
    for wrong in ({"ends": "2028-01-01"}, {"name": ""}, {"year": 999}):
        assert client.post("/school/judgements/", {**data, **wrong}).status_code == 422
    html = client.get(f"/classes/{village.robins.pk}/judgements/").content.decode()
    assert "Autumn" in html


def test_a_second_teacher_of_the_class_judges_as_well(village, signed_in, period):
    post = village.people["teacher"].posts.get()
    village.people["partner"] = make_staff("partner", village.school, post.role, [village.robins])
    decide(village, period, village.aisha, "Number", "expected")
    decide(village, period, village.aisha, "Number", "emerging", by="partner", seen=1)
    assert len(of_robins(village, period).differing) == 1

"""A school's own goals: read into a draft, compared, taken into use, written out again."""

import datetime as dt
import json

import pytest

from assessment import frameworks
from assessment.goals.goal_sets import choose_framework, framework_of
from assessment.goals.own_goal_sets import (
    accept,
    as_framework,
    changes,
    make_draft,
    read_file,
    set_retired,
    slug_of,
    tick_kinds,
)
from assessment.models import Framework, Goal
from tests.assessment.builders import looked, send, set_day

TABLE = b"code,strand,text,kinds\nA1,Number,Counts to 10,counting-amounts\nA2,Number,Halves 8,\n"
LATER = b"code,strand,text\nA1,Number,Counts to 20\nA3,Shape,Names shapes\n"


@pytest.fixture
def school(village):
    return village.school


def brought_in(school, table=TABLE) -> Framework:
    """Bring a table in and take it into use."""
    return accept(make_draft(school, read_file(table, "Our goals")))


def words(framework) -> dict[str, str]:
    """Return the statements in use by code."""
    return dict(framework.goals.in_use().values_list("code", "text"))


def test_a_table_and_a_package_are_told_apart_by_what_is_in_them():
    assert read_file(TABLE, "Our goals").title == "Our goals"
    shipped = frameworks.framework_by_id(frameworks.DEFAULT)
    package = frameworks.write_case(shipped, dt.datetime(2026, 9, 1, tzinfo=dt.UTC))
    read = read_file(b"\xef\xbb\xbf \n" + json.dumps(package).encode(), "")
    assert read.title == shipped.title


def test_a_table_without_a_name_is_refused():
    with pytest.raises(frameworks.FrameworkError, match="title"):
        read_file(TABLE, "")


def test_a_faulty_table_names_its_row_and_column():
    with pytest.raises(frameworks.FrameworkError, match="row 2, column kinds: knitting"):
        read_file(b"code,strand,text,kinds\nA1,Number,Counts,knitting\n", "Ours")


@pytest.mark.parametrize("name", ["", "!!!", "x" * 300, "Ünser Zahlen-Ziele"])
def test_any_name_gives_a_slug_that_fits(name):
    assert 1 <= len(slug_of(name)) <= 60


def test_a_draft_is_offered_to_no_class_until_it_is_taken_into_use(school):
    draft = make_draft(school, read_file(TABLE, "Our goals"))
    assert draft not in Framework.objects.to_choose(school)
    assert accept(draft) in Framework.objects.to_choose(school)


def test_a_later_file_puts_right_the_set_that_is_there(school):
    first = brought_in(school)
    draft = make_draft(school, read_file(LATER, "Our goals"))
    found = changes(draft)
    assert [goal.code for goal in found.new] == ["A3"]
    assert [goal.code for goal in found.changed] == ["A1"]
    assert [goal.code for goal in found.gone] == ["A2"]
    assert words(first) == {"A1": "Counts to 10", "A2": "Halves 8"}
    assert accept(draft) == first
    assert words(first) == {"A1": "Counts to 20", "A3": "Names shapes"}
    assert not Framework.objects.filter(draft=True).exists()


def test_kinds_ticked_by_the_school_outlive_a_file_that_names_none(school):
    own = brought_in(school)
    make = own.goals.get(code="A1")
    tick_kinds(own, {make.pk: ["one-more", "counting-amounts"]})
    accept(make_draft(school, read_file(LATER, "Our goals")))
    make.refresh_from_db()
    assert make.kinds == ["counting-amounts", "one-more"]


def test_a_statement_keeps_its_tags_through_another_wording_and_retiring(village, school):
    own = brought_in(school)
    choose_framework(village.robins, own)
    goal = own.goals.get(code="A2")
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"])
    work.tags.create(goal=goal, how="independently")
    accept(make_draft(school, read_file(LATER, "Our goals")))
    goal.refresh_from_db()
    assert goal.retired_at is not None
    assert goal.tags.count() == 1


def test_a_retired_statement_comes_back_with_a_file_that_names_it(school):
    own = brought_in(school)
    set_retired(own.goals.get(code="A2"), retired=True)
    assert list(words(own)) == ["A1"]
    brought_in(school)
    assert list(words(own)) == ["A1", "A2"]


def test_two_schools_may_have_sets_of_the_same_name(village, school):
    brought_in(school)
    other = village.dot.school
    assert brought_in(other).school == other
    assert Framework.objects.filter(slug="our-goals").count() == 2


def test_what_is_written_as_case_reads_the_same_again(village, school):
    own = brought_in(school)
    tick_kinds(own, {own.goals.get(code="A2").pk: ["halving", "sharing-equally"]})
    written = frameworks.write_case(as_framework(own), own.changed_at)
    back = frameworks.read_case(json.dumps(written))
    assert [(goal.code, goal.text, goal.strand, goal.kinds) for goal in back.goals] == [
        ("A1", "Counts to 10", "Number", ("counting-amounts",)),
        ("A2", "Halves 8", "Number", ("halving", "sharing-equally")),
    ]
    elsewhere = accept(make_draft(village.dot.school, back))
    assert words(elsewhere) == words(own)


def test_what_a_goal_asks_is_stored_travels_and_decides_what_is_suggested(school):
    early = frameworks.framework_by_id(frameworks.DEFAULT)
    package = frameworks.write_case(early, dt.datetime(2026, 9, 1, tzinfo=dt.UTC))
    own = accept(make_draft(school, read_file(json.dumps(package).encode(), "")))
    asked = early.goal("ELG-NP-1").asks
    assert own.goals.get(code="ELG-NP-1").asked == asked
    again = frameworks.write_case(as_framework(own), own.changed_at)
    assert frameworks.read_case(again).goal("ELG-NP-1").asks == asked


def test_what_a_goal_asks_outlives_a_file_that_does_not_say_it(school):
    early = frameworks.framework_by_id(frameworks.DEFAULT)
    package = frameworks.write_case(early, dt.datetime(2026, 9, 1, tzinfo=dt.UTC))
    own = accept(make_draft(school, read_file(json.dumps(package).encode(), "")))
    for item in package["CFItems"]:
        item.pop("extensions", None)
    accept(make_draft(school, read_file(json.dumps(package).encode(), "")))
    assert own.goals.get(code="ELG-NP-1").asked == early.goal("ELG-NP-1").asks


def test_a_class_may_change_in_the_middle_of_the_year_and_old_tags_stay(village, school):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"], how="with support")
    before = framework_of(village.robins)
    choose_framework(village.robins, brought_in(school))
    assert framework_of(village.robins) != before
    assert work.tags.get().goal.framework == before
    choose_framework(village.robins, before)
    assert framework_of(village.robins) == before


def test_five_thousand_statements_are_brought_in_with_few_questions(
    school, django_assert_max_num_queries
):
    table = "code,strand,text\n" + "".join(f"C{n},Number,Statement {n}\n" for n in range(5000))
    given = read_file(table.encode(), "Many")
    with django_assert_max_num_queries(80):
        accept(make_draft(school, given))
    assert Goal.objects.filter(framework__slug="many").count() == 5000

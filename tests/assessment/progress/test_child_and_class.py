"""What a child showed, and a class by its goals, on screen and as a table to take away."""

import csv
import datetime as dt
import io

import pytest
from django.urls import reverse
from freezegun import freeze_time

from assessment.looks.looking import LookData, save_look, take_back_look
from assessment.spreadsheets import harmless
from portal.people.models import Child
from tests.assessment.builders import add_photo, goal, looked, send, set_day
from tests.village import MONDAY


@pytest.fixture
def shown(village):
    """Give three looked-at pieces of Aisha's, Monday to Wednesday, each tagged, on Friday."""
    work = []
    with freeze_time("2026-11-27 12:00"):
        for day, how in enumerate(["not yet", "with support", "independently"]):
            plan = set_day(village.robins, MONDAY + dt.timedelta(days=day))
            one = send(village.aisha, village.first_home, plan, help="alone")
            looked(one, village.people["teacher"], reply=f"Reply {day}", how=how)
            work.append(one)
        yield work


def test_a_childs_page_shows_the_work_newest_first_with_what_was_set_and_the_reply(
    village, signed_in, shown
):
    piece = add_photo(shown[0])
    html = signed_in("teacher").get(f"/children/{village.aisha.pk}/").content.decode()
    assert html.index("Reply 2") < html.index("Reply 1") < html.index("Reply 0")
    assert "<dd>Halving</dd>" in html
    assert f"/pieces/{piece.token}/thumb/" in html
    assert f"/look/{shown[0].token}/" in html


def test_a_childs_page_says_how_each_goal_was_shown_and_when(village, signed_in, shown):
    html = signed_in("teacher").get(f"/children/{village.aisha.pk}/").content.decode()
    assert "23 Nov not yet, 24 Nov with support, 25 Nov independently" in html
    assert "nothing tagged" in html


def test_a_month_of_a_goal_opens_the_work_of_that_month_alone(village, signed_in, shown):
    address = f"/children/{village.aisha.pk}/goals/{goal().pk}/"
    client = signed_in("teacher")
    assert f"{address}?month=2026-11" in client.get(f"/children/{village.aisha.pk}/").text
    assert client.get(f"{address}?month=2026-11").text.count("<article") == len(shown)
    assert "<article" not in client.get(f"{address}?month=2026-10").text
    assert client.get(f"{address}?month=soon").text.count("<article") == len(shown)


def test_an_assistants_tag_is_said_to_be_the_assistants(village, signed_in, shown):
    saying = LookData(tags={goal().pk: "in a new situation"})
    save_look(shown[2], village.people["assistant"], saying, 1)
    address = f"/children/{village.aisha.pk}/goals/{goal().pk}/"
    assert "by the assistant" in signed_in("teacher").get(address).content.decode()


def test_the_grid_says_when_it_was_shown_the_last_times_and_how(village, signed_in, shown):
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/goals/").content.decode()
    address = reverse("assessment:evidence", args=[village.aisha.pk, goal().pk])
    assert f'href="{address}"' in html
    assert "23 Nov not yet, 24 Nov with support, 25 Nov independently" in html
    assert "Ben T" in html


def test_a_look_taken_back_no_longer_counts_in_the_grid(village, signed_in, shown):
    take_back_look(shown[2], 1)
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/goals/").content.decode()
    assert "23 Nov not yet, 24 Nov with support<" in html


def test_under_a_cell_lies_the_evidence(village, signed_in, shown):
    address = f"/children/{village.aisha.pk}/goals/{goal().pk}/"
    html = signed_in("teacher").get(address).content.decode()
    for one in shown:
        assert f"/look/{one.token}/" in html
    assert "With support" in html


def test_a_goal_of_another_schools_own_framework_is_not_there(village, signed_in):
    from assessment.models import Framework

    theirs = Framework.objects.create(slug="theirs", title="Theirs", school=village.dot.school)
    strange = theirs.goals.create(code="X", strand="X", text="X", position=0)
    address = f"/children/{village.aisha.pk}/goals/{strange.pk}/"
    assert signed_in("teacher").get(address).status_code == 404


def test_the_table_to_take_away_has_a_tag_a_line_and_a_fact_a_cell(village, signed_in, shown):
    answer = signed_in("teacher").get(f"/classes/{village.robins.pk}/goals.csv")
    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert answer["Content-Disposition"] == 'attachment; filename="goals-robins.csv"'
    assert len(rows) == 1 + len(shown)
    who = village.people["teacher"].name
    assert rows[3] == [
        *("Aisha K", "Numerical Patterns", goal().label, "2026-11-25", "all alone"),
        *("Halving", "independently", who, "teacher"),
    ]


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1"])
def test_a_name_that_looks_like_a_formula_stays_a_name(village, signed_in, shown, name):
    Child.objects.filter(pk=village.aisha.pk).update(first_name=name, initial="")
    answer = signed_in("teacher").get(f"/classes/{village.robins.pk}/goals.csv")
    cells = [row[0] for row in csv.reader(io.StringIO(answer.content.decode("utf-8-sig")))]
    assert f"'{name.strip()}" in [f"'{cell[1:].strip()}" for cell in cells if cell.startswith("'")]
    assert harmless(name).startswith("'")


@pytest.mark.parametrize("place", ["/children/{child}/", "/children/{child}/goals/{goal}/"])
def test_a_family_sees_no_tags_and_no_page_of_them(village, signed_in, shown, place):
    address = place.format(child=village.aisha.pk, goal=goal().pk)
    for role in ("family", "office", "other teacher", "foreign lead"):
        assert signed_in(role).get(address).status_code == 404
    for role in ("teacher", "assistant", "lead"):
        assert signed_in(role).get(address).status_code == 200

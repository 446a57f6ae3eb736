"""Days without school come with the roster file, or in a file of their own, and go with it."""

import datetime as dt

import pytest

from portal.people.models import Child, Closure
from portal.people.roster_import.files.fields import suggest, what_is_missing
from portal.people.roster_import.running import plan_of
from portal.people.roster_import.undoing import undo_run
from portal.people.roster_import.words import fates
from tests.portal.people.roster_import.roster_files import csv_bytes, harbour

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
HOLIDAYS = (
    ("Holiday", "First day", "Last day"),
    ("Half term", "26/10/2026", "30/10/2026"),
    ("Training day", "27/11/2026", ""),
    ("Christmas", "2026-12-21", "2027-01-01"),
)
BESIDE = (
    ("Child", "Class", "School closed", "Closed from", "Closed until"),
    ("Mina A", "Robins", "Half term", "26/10/2026", "30/10/2026"),
    ("Tobi B", "Robins", "", "", ""),
    ("", "", "Training day", "27/11/2026", ""),
)


def closed() -> list[tuple[str, dt.date, dt.date]]:
    return list(Closure.objects.order_by("first").values_list("name", "first", "last"))


def test_a_file_of_holidays_alone_closes_the_school_and_touches_no_child(run):
    run(harbour())
    children = list(Child.objects.values())
    done = run(csv_bytes(HOLIDAYS), whole_school=True)
    assert closed() == [
        ("Half term", dt.date(2026, 10, 26), dt.date(2026, 10, 30)),
        ("Training day", dt.date(2026, 11, 27), dt.date(2026, 11, 27)),
        ("Christmas", dt.date(2026, 12, 21), dt.date(2027, 1, 1)),
    ]
    assert done.figures == {"closure": 3}
    assert list(Child.objects.values()) == children


def test_columns_beside_the_children_hold_them_too(run):
    done = run(csv_bytes(BESIDE))
    assert [name for name, *_days in closed()] == ["Half term", "Training day"]
    assert done.figures == {"new": 2, "closure": 2}


def test_what_would_happen_is_said_and_a_second_file_closes_nothing_twice(run, bring_in):
    draft = bring_in(csv_bytes(HOLIDAYS))
    assert [(fate.name, fate.words) for fate in fates(plan_of(draft))][:2] == [
        ("Half term", "no school: Monday 26 October to Friday 30 October 2026"),
        ("Training day", "no school: Friday 27 November 2026"),
    ]
    run(csv_bytes(HOLIDAYS))
    again = run(csv_bytes(HOLIDAYS))
    assert (again.figures, again.changes, len(closed())) == ({}, [], 3)


def test_undoing_the_file_opens_the_school_again(run):
    undo_run(run(csv_bytes(BESIDE)))
    assert closed() == []
    assert not Child.objects.exists()


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (("", "21/12/2026", ""), "needs its name and its first day"),
        (("Christmas", "", "1/1/2027"), "needs its name and its first day"),
        (("Christmas", "soon", ""), "is not a date"),
        (("Christmas", "21/12/2026", "1/1/2026"), "is before the first"),
        (("Christmas", "21/12/2028", ""), "is not within the school year"),
        (("Snow", "30/10/2026", "2/11/2026"), "already: Half term, Monday 26 October"),
    ],
)
def test_a_row_that_cannot_be_is_named_and_nothing_is_run(bring_in, row, said):
    plan = plan_of(bring_in(csv_bytes([*HOLIDAYS[:2], row])))
    assert plan.is_blocked
    assert [str(problem) for problem in plan.problems if said in str(problem)]


def test_first_and_last_day_are_of_closures_only_beside_their_name():
    assert suggest(["Holiday", "First day", "Last day"], {}) == [
        "closed",
        "closed from",
        "closed to",
    ]
    assert suggest(["Child", "Class", "Start date"], {}) == ["whole name", "class", ""]


def test_a_name_without_a_first_day_is_asked_for():
    assert "first day" in str(what_is_missing(["closed", ""], one_class=False))
    assert what_is_missing(["closed", "closed from"], one_class=False) is None
